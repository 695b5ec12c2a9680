CREATE TABLE _sqlx_migrations (
    version BIGINT PRIMARY KEY,
    description TEXT NOT NULL,
    installed_on TIMESTAMP NOT NULL DEFAULT CURRENT_TIMESTAMP,
    success BOOLEAN NOT NULL,
    checksum BLOB NOT NULL,
    execution_time BIGINT NOT NULL
);
CREATE TABLE household (
    household_id integer primary key,
    name         text    not null,
    timezone     text    not null,          -- IANA name
    created_at   text    not null
) strict;
CREATE TABLE person (
    person_id  integer primary key,
    created_at text    not null
) strict;
CREATE TABLE identity (
    channel   text    not null,
    sender    text    not null,             -- the channel's own id
    person_id integer not null references person,
    primary key (channel, sender)
) strict, without rowid;
CREATE TABLE member (
    household_id integer not null references household,
    member_id    integer not null,
    person_id    integer references person,
    name         text    not null,
    keeper       integer not null default 0 check (keeper in (0, 1)),
    joined_at    text    not null,
    left_at      text,
    primary key (household_id, member_id)
) strict, without rowid;
CREATE TABLE chat (
    channel      text    not null,
    chat         text    not null,          -- the channel's own id
    household_id integer not null references household,
    private      integer not null check (private in (0, 1)),
    moved_to     text,
    primary key (channel, chat)
) strict, without rowid;
CREATE TABLE stranger (
    channel      text    not null,
    chat         text    not null,
    told_at      text    not null,
    primary key (channel, chat)
) strict, without rowid;
CREATE TABLE invite (
    code_digest  text    primary key,
    created_at   text    not null,
    expires_at   text    not null,
    used_at      text,
    household_id integer references household
) strict, without rowid;
CREATE TABLE message (
    message_id   integer primary key,
    channel      text    not null,
    chat         text    not null,
    external_id  text    not null,          -- the channel's own message id
    revision     integer not null,          -- 0 for the original, then rising with every edit
    kind         text    not null check (kind in ('message', 'press')),
    sender       text    not null,
    sender_name  text    not null,
    body         text    not null,          -- the text, or what a pressed button carries
    reply_to     text,                      -- the channel's own id of the message replied to
    topic        text,                      -- the thread of a group that has them
    private      integer not null check (private in (0, 1)),
    forwarded    integer not null default 0 check (forwarded in (0, 1)),
    household    text,                      -- the chat whose household a private message is about
    sent_at      text    not null,
    received_at  text    not null,
    attempts     integer not null default 0,
    outcome      text check (outcome in ('recorded', 'asked', 'refused', 'answered', 'ignored', 'failed')),
    household_id integer references household,
    member_id    integer,
    unique (channel, chat, kind, external_id, revision)
) strict;
CREATE TABLE outbox (
    outbox_id   integer primary key,
    message_id  integer references message,
    channel     text    not null,
    chat        text    not null,
    topic       text,
    kind        text    not null check (kind in ('reply', 'notice', 'edit', 'reaction', 'picture')),
    edits       integer references outbox,   -- the reply that an edit replaces
    answers     text,                        -- the channel's own id of the message answered
    body        text    not null,
    bold        text    not null default '[]', -- JSON: byte ranges of the body, [start, end]
    buttons     text    not null default '[]', -- JSON: rows of {label, press}
    data        text    not null default '{}', -- JSON: the same answer for machines
    silent      integer not null default 0 check (silent in (0, 1)),
    created_at  text    not null,
    external_id text,                        -- the channel's own id once sent
    sent_at     text,
    failed_at   text,                        -- set aside: the channel refuses it for good
    attempts    integer not null default 0
, parts text, picture text) strict;
CREATE TABLE account (
    household_id integer not null references household,
    account_id   integer not null,
    kind         text    not null check (kind in ('bought', 'water', 'poured', 'waste', 'difference',
                                                  'origin', 'unweighed', 'lot', 'plate')),
    balance_mg   integer not null default 0,
    primary key (household_id, account_id)
) strict, without rowid;
CREATE TABLE component (
    household_id integer not null references household,
    component_id integer not null,
    name         text    not null,
    name_key     text    not null,          -- folded: case, accents, plurals
    primary key (household_id, component_id),
    unique (household_id, name_key)
) strict, without rowid;
CREATE TABLE batch (
    household_id integer not null references household,
    batch_id     integer not null,
    component_id integer not null,
    code         text    not null,          -- short, typed at the stove and written on tape: D7
    name         text    not null,
    made_at      text    not null,
    made_on      text    not null,          -- the household's own day
    raw          integer not null check (raw in (0, 1)),
    closed_at    text, origin text references batch_origin, dated integer not null default 1 check (dated in (0, 1)),                      -- null: on the board; a finished batch stays in the books
    primary key (household_id, batch_id),
    unique (household_id, code),
    foreign key (household_id, component_id) references component
) strict, without rowid;
CREATE TABLE place (
    household_id integer not null references household,
    place_id     integer not null,
    name         text    not null,
    kind         text    not null check (kind in ('fridge', 'freezer', 'counter')),
    primary key (household_id, place_id),
    unique (household_id, name)
) strict, without rowid;
CREATE TABLE container (
    household_id integer not null references household,
    container_id integer not null,
    name         text    not null,
    primary key (household_id, container_id),
    unique (household_id, name)
) strict, without rowid;
CREATE TABLE profile (
    household_id     integer not null references household,
    profile_id       integer not null,
    food             text,                  -- 'NDB 04506'
    packet           text,                  -- the household's name for a packet
    description      text    not null,
    energy_kcal      real,
    protein_g        real,
    fat_g            real,
    saturated_fat_g  real,
    carbohydrate_g   real,
    sugars_g         real,
    fibre_g          real,
    sodium_mg        real,
    potassium_mg     real,
    calcium_mg       real,
    iron_mg          real,
    cholesterol_mg   real,
    water_g          real,
    alcohol_g        real,
    primary key (household_id, profile_id)
) strict, without rowid;
CREATE TABLE lot (
    household_id integer not null,
    account_id   integer not null,
    batch_id     integer,
    profile_id   integer,
    place_id     integer,
    container_id integer,
    use_by       text, came_from integer, since text,
    primary key (household_id, account_id),
    check ((batch_id is null) <> (profile_id is null)),
    foreign key (household_id, account_id) references account,
    foreign key (household_id, batch_id) references batch,
    foreign key (household_id, profile_id) references profile,
    foreign key (household_id, place_id) references place,
    foreign key (household_id, container_id) references container
) strict, without rowid;
CREATE TABLE plate (
    household_id integer not null,
    account_id   integer not null,
    member_id    integer not null,
    day          text    not null,
    meal         text check (meal in ('breakfast', 'lunch', 'dinner', 'snack')),
    message_id   integer not null,          -- the message that opened it, whose answer grows with it
    closed       integer not null check (closed in (0, 1)),
    opened_at    text    not null,
    primary key (household_id, account_id),
    foreign key (household_id, account_id) references account,
    foreign key (household_id, member_id) references member
) strict, without rowid;
CREATE TABLE entry_kind (
    kind text primary key
) strict, without rowid;
CREATE TABLE entry (
    household_id integer not null references household,
    entry_id     integer not null,
    kind         text    not null references entry_kind,
    occurred_at  text    not null,
    recorded_at  text    not null,
    member_id    integer not null,
    message_id   integer,                   -- the message that said so
    ordinal      integer not null,          -- its place among that message's entries
    from_id      integer not null,
    to_id        integer not null,
    mass_mg      integer not null check (mass_mg >= 0),
    batch_id     integer,
    profile_id   integer,
    reverses     integer,
    root         integer,                   -- the first entry of a chain of reversals
    primary key (household_id, entry_id),
    unique (message_id, ordinal),
    unique (household_id, reverses),
    check (from_id <> to_id),
    check ((kind = 'reversal') = (reverses is not null)),
    check ((reverses is null) = (root is null)),
    foreign key (household_id, member_id) references member,
    foreign key (household_id, from_id) references account,
    foreign key (household_id, to_id) references account,
    foreign key (household_id, batch_id) references batch,
    foreign key (household_id, profile_id) references profile,
    foreign key (household_id, reverses) references entry,
    foreign key (household_id, root) references entry
) strict, without rowid;
CREATE TABLE voided (
    household_id integer not null,
    entry_id     integer not null,
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE ingredient (
    household_id integer not null,
    entry_id     integer not null,
    line         integer not null,          -- its number on the batch
    text         text    not null,          -- as typed
    part         text,                      -- 'marinade', 'brine'
    state        text    not null check (state in ('known', 'no_food', 'no_mass', 'uncounted', 'pending')),
    estimated    integer not null check (estimated in (0, 1)),
    note         text,                      -- what was assumed, in words
    source_id    integer,                   -- the batch that was used, when the ingredient is one
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, source_id) references batch
) strict, without rowid;
CREATE TABLE weighing (
    household_id integer not null,
    entry_id     integer not null,
    gross_mg     integer not null,
    tare_mg      integer not null,
    net_mg       integer not null,
    primary key (household_id, entry_id),
    check (net_mg = gross_mg - tare_mg),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE pour_off (
    household_id integer not null,
    entry_id     integer not null,
    what         text    not null check (what in ('fat', 'part', 'whole')),
    part         text,                      -- which part left, for 'part'
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE portion (
    household_id integer not null,
    entry_id     integer not null,
    estimated    integer not null check (estimated in (0, 1)), -- from a volume, a count, or judged by eye
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE packet (
    household_id integer not null,
    entry_id     integer not null,
    name         text    not null,
    name_key     text    not null,
    profile_id   integer not null,
    serving_mg   integer,
    doubted      integer not null check (doubted in (0, 1)),
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, profile_id) references profile
) strict, without rowid;
CREATE TABLE measure (
    household_id integer not null,
    entry_id     integer not null,
    measure      text    not null,          -- 'ladle'
    name_key     text,                      -- of what; null: of anything
    each_mg      integer not null check (each_mg > 0),
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE tare (
    household_id integer not null,
    entry_id     integer not null,
    container_id integer not null,
    tare_mg      integer not null check (tare_mg >= 0),
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, container_id) references container
) strict, without rowid;
CREATE TABLE choice (
    household_id integer not null,
    entry_id     integer not null,
    name_key     text    not null,
    food         text    not null,          -- 'NDB 04506'
    eaten        integer not null check (eaten in (0, 1)), -- on a plate, not in a pot: "rice" is cooked there and dry here
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE setting (
    household_id integer not null,
    entry_id     integer not null,
    key          text    not null,
    value        text    not null,
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE question (
    household_id integer not null references household,
    question_id  integer not null,
    member_id    integer not null,
    message_id   integer not null references message,
    about        text    not null,
    words        text    not null,          -- what it is about, as typed
    options      text    not null,          -- JSON: pairs of label and sentence
    said_at      text    not null,          -- when the message that it is about was sent
    pointed      integer,                   -- the message whose act it is about, if it points at one
    mentioned    integer not null check (mentioned in (0, 1)), -- that it waits has been said once
    asked_at     text    not null,
    expires_at   text    not null,
    closed_at    text, answered_by integer references message, first_entry integer, after_entry integer,
    primary key (household_id, question_id),
    foreign key (household_id, member_id) references member
) strict, without rowid;
CREATE TABLE batch_origin (
    origin text primary key
) strict, without rowid;
CREATE TABLE pieces (
    household_id integer not null,
    entry_id     integer not null,
    count        integer not null check (count > 0),
    of_mg        integer check (of_mg > 0), -- what was counted; null: the whole of the batch
    word         text,                      -- what one is called, in the singular; null: by the batch's own name
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE told_date (
    household_id integer not null,
    entry_id     integer not null,
    lot_id       integer not null,
    use_by       text    not null,
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, lot_id) references lot
) strict, without rowid;
CREATE TABLE own_days (
    household_id integer not null,
    entry_id     integer not null,
    component_id integer not null,
    storage      text    not null check (storage in ('fridge', 'thawed', 'freezer')),
    count        integer check (count >= 0),
    unit         text check (unit in ('day', 'month')),
    primary key (household_id, entry_id),
    check ((count is null) = (unit is null)),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, component_id) references component
) strict, without rowid;
CREATE TABLE place_kind (
    household_id integer not null,
    entry_id     integer not null,
    place_id     integer not null,
    kind         text    not null check (kind in ('fridge', 'freezer', 'counter')),
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, place_id) references place
) strict, without rowid;
CREATE TABLE taking (
    household_id integer not null,
    entry_id     integer not null,
    amount       text    not null,          -- as it was said: 'some', 'a bit'
    taker_id     integer,                   -- who took it, if that is known
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, taker_id) references member
) strict, without rowid;
CREATE TABLE waste (
    household_id integer not null,
    entry_id     integer not null,
    reason       text    not null,
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE price (
    household_id integer not null,
    entry_id     integer not null,
    hundredths   integer not null check (hundredths >= 0),
    currency     text    not null,          -- '€', 'euro', or '' where none was said
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE board (
    channel      text    not null,
    chat         text    not null,          -- the channel's own id
    household_id integer not null references household,
    outbox_id    integer not null unique references outbox,  -- the message that was hung up
    away         integer not null default 0 check (away in (0, 1)), -- taken down, as the household wished
    pin_refused  integer not null default 0 check (pin_refused in (0, 1)), -- it was said that the bot may not pin
    primary key (channel, chat)
) strict, without rowid;
CREATE TABLE vessel (
    household_id integer not null,
    entry_id     integer not null,
    lot_id       integer not null,
    container_id integer,
    tare_mg      integer check (tare_mg >= 0),
    primary key (household_id, entry_id),
    check (container_id is null or tare_mg is null),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, lot_id) references lot,
    foreign key (household_id, container_id) references container
) strict, without rowid;
CREATE TABLE reminder_kind (kind text primary key) strict, without rowid;
CREATE TABLE reminder (
    household_id integer not null,
    entry_id     integer not null,
    kind         text    not null references reminder_kind,
    number       integer not null,          -- what it is called by: the least that was free
    words        text    not null,          -- what for, as typed; may be empty
    due_at       text    not null,          -- UTC, as it was asked
    wall         text,                      -- 'YYYY-MM-DDTHH:MM' of the household, where an hour was told: another zone
                                            -- moves it; null: a span, which nothing moves
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE reminder_state (
    household_id integer not null,
    entry_id     integer not null,
    channel      text    not null,
    chat         text    not null,          -- the channel's own id: where it was asked for
    topic        text,
    due_at       text    not null,          -- moves with the household's zone
    state        text    not null check (state in ('waiting', 'said', 'dropped', 'void')),
    changed_at   text    not null,
    outbox_id    integer references outbox, -- what said it
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references reminder
) strict, without rowid;
CREATE TABLE note_kind (kind text primary key) strict, without rowid;
CREATE TABLE note_said (
    channel      text    not null,
    chat         text    not null,
    kind         text    not null references note_kind,
    occurrence   text    not null,          -- the local date that it was for; of a pot its code
    household_id integer not null references household,
    due_at       text    not null,
    looked_at    text    not null,
    came_to      text    not null check (came_to in ('said', 'nothing', 'merged', 'away')), -- merged: a later one of its kind spoke for it
    outbox_id    integer references outbox,
    primary key (channel, chat, kind, occurrence)
) strict, without rowid;
CREATE TABLE schedule (
    channel      text    not null,
    chat         text    not null,
    household_id integer not null references household,
    since        text    not null,          -- nothing due before it is owed: the chat was let in then
    next_at      text,                      -- null: every note is off
    primary key (channel, chat)
) strict, without rowid;
CREATE TABLE absence (
    household_id integer not null,
    entry_id     integer not null,
    absent_id    integer,                   -- the member; null: all
    from_day     text    not null,
    until_day    text    not null check (until_day >= from_day),
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, absent_id) references member
) strict, without rowid;
CREATE TABLE good_fact_kind (
    kind text primary key
) strict, without rowid;
CREATE TABLE good_fact (
    household_id integer not null,
    entry_id     integer not null,
    kind         text    not null references good_fact_kind,
    name_key     text    not null,              -- its words, folded
    words        text    not null,              -- its words as they were typed
    food         text,                          -- the table's number of it
    mass_mg      integer check (mass_mg > 0),   -- bought before it was trimmed; of a pack; what a price is for; in the cupboard
    trimmed_mg   integer check (trimmed_mg between 1 and mass_mg),
    word         text,                          -- what a pack of it is called
    hundredths   integer check (hundredths >= 0),
    currency     text,                          -- as it was typed, or ''
    primary key (household_id, entry_id),
    check ((kind in ('always', 'out')) = (mass_mg is null)),
    check ((kind = 'trimmed') = (trimmed_mg is not null)),
    check ((kind = 'pack') = (word is not null)),
    check ((kind = 'price') = (hundredths is not null)),
    check ((kind = 'price') = (currency is not null)),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE prep_fact_kind (
    kind text primary key
) strict, without rowid;
CREATE TABLE prep_fact (
    household_id integer not null,
    entry_id     integer not null,
    kind         text    not null references prep_fact_kind,
    component_id integer,                       -- of a pot: null is any dish
    mass_mg      integer check (mass_mg > 0),   -- of a par level: null is none from here on
    count        integer check (count > 0),     -- of a limit: null is none from here on
    primary key (household_id, entry_id),
    check (kind != 'par' or component_id is not null),
    check (kind != 'pot' or mass_mg is not null),
    check (kind in ('par', 'pot') or component_id is null and mass_mg is null),
    check (kind not in ('par', 'pot') or count is null),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, component_id) references component
) strict, without rowid;
CREATE TABLE wish (
    household_id integer not null,
    entry_id     integer not null,
    component_id integer not null,
    from_day     text    not null,
    until_day    text    not null check (until_day >= from_day),
    mass_mg      integer check (mass_mg > 0),   -- a day; null: none of it
    meal         text check (meal in ('breakfast', 'lunch', 'dinner', 'snack')),
    people       integer check (people > 0),
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, component_id) references component
) strict, without rowid;
CREATE TABLE steps_told (
    household_id integer not null,
    entry_id     integer not null,
    component_id integer not null,
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, component_id) references component
) strict, without rowid;
CREATE TABLE step (
    household_id integer not null,
    entry_id     integer not null,
    number       integer not null,              -- in their order, from 1
    words        text    not null,
    minutes      integer not null check (minutes > 0),
    uses         text    not null check (uses in ('hands', 'burner', 'oven', 'nothing')),
    oven_c       integer check (oven_c > 0),
    primary key (household_id, entry_id, number),
    check (uses = 'oven' or oven_c is null),
    foreign key (household_id, entry_id) references steps_told
) strict, without rowid;
CREATE TABLE own_yield (
    household_id integer not null,
    batch_id     integer not null,
    pots         integer not null check (pots > 0),  -- so many told it
    median       real    not null check (median > 0),
    least        real    not null check (least > 0),
    most         real    not null check (most >= least),
    liquid       real    not null check (liquid >= 0), -- liquid over what went in besides, in pots that tell of any
    primary key (household_id, batch_id),
    foreign key (household_id, batch_id) references batch
) strict, without rowid;
CREATE TABLE list_fact_kind (
    kind text primary key
) strict, without rowid;
CREATE TABLE list_fact (
    household_id integer not null,
    entry_id     integer not null,
    list_id      integer not null,
    kind         text    not null references list_fact_kind,
    name_key     text,                          -- its words, folded
    words        text,                          -- its words as they were typed
    food         text,                          -- the table's number of it
    mass_mg      integer check (mass_mg > 0),   -- as it is bought
    said         text,                          -- how much, where that is no mass: "2 tins"
    planned      integer not null default 0 check (planned in (0, 1)),
    from_day     text,                          -- the days that the plan is for
    until_day    text check (until_day >= from_day),
    primary key (household_id, entry_id),
    check (kind != 'begun' or list_id = entry_id),
    check ((kind in ('wanted', 'ticked')) = (name_key is not null)),
    check ((name_key is null) = (words is null)),
    check (kind = 'wanted' or mass_mg is null and said is null and planned = 0),
    check ((kind = 'planned') = (from_day is not null)),
    check ((from_day is null) = (until_day is null)),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE personal_kind (kind text primary key) strict, without rowid;
CREATE TABLE personal (
    household_id integer not null,
    entry_id     integer not null,
    about_id     integer not null,          -- the member
    kind         text    not null references personal_kind,
    counted      text check (counted in ('energy', 'protein', 'fat', 'carbohydrate', 'fibre', 'salt')), -- what a target is of
    least        real,                      -- kcal or grams a day; neither: no target any more
    most         real,
    chosen       integer check (chosen in (0, 1)),
    words        text,                      -- a name
    primary key (household_id, entry_id),
    check ((kind = 'target') = (counted is not null)),
    check ((kind in ('name', 'nickname')) = (words is not null)),
    check ((kind in ('numbers', 'private', 'keeper', 'here')) = (chosen is not null)),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, about_id) references member
) strict, without rowid;
CREATE TABLE home_level (
    household_id integer not null,
    entry_id     integer not null,
    name_key     text    not null,              -- its words, folded
    words        text    not null,              -- its words as they were typed
    food         text,                          -- the table's number of it
    mass_mg      integer check (mass_mg > 0),
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
CREATE TABLE avoidance (
    household_id integer not null,
    entry_id     integer not null,
    about_id     integer not null,          -- the member
    words        text    not null,          -- as it was told: 'peanuts'
    cannot       integer not null check (cannot in (0, 1)), -- or leaves it out by choice
    holds        integer not null check (holds in (0, 1)),  -- no more of it: 0
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, about_id) references member
) strict, without rowid;
CREATE TABLE contents (
    household_id integer not null,
    entry_id     integer not null,
    name_key     text    not null,              -- the thing, folded: 'butter biscuit'
    words        text    not null,              -- the thing as it was typed
    things       text    not null check (things <> ''),     -- one a line, as they were typed
    whole        integer not null check (whole in (0, 1)),  -- nothing else is in it
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
insert into "_sqlx_migrations" values (1,'books','2026-12-01 17:41:26',1,X'04C0D5497C3C180F92FEBB498690374322B798487972B7BF01398F58A2ADCFC157B1B6A19271CA0ADF5BA7CAC3CEE4AC',3743467);
insert into "_sqlx_migrations" values (10,'vessels','2026-12-01 17:41:26',1,X'3F450A7B65E14BEA1BB6CA57D0AE04C418EC2C91A68E8D7D53945EFCE389EB723D5061B3F2D849F12DE8564E5127A25F',9419734);
insert into "_sqlx_migrations" values (11,'clock','2026-12-01 17:41:26',1,X'D5A9882C9DABEB50F84E6DFA1CF4067A3F088A7C4F3E5294C569ADD93FD8A166CAB5654F04ACC59BF13283F6B9274E76',1399688);
insert into "_sqlx_migrations" values (13,'prep','2026-12-01 17:41:26',1,X'7142D840EC7AF5D8DE3AEEF33F6FD3A097B4D41C49832A641652A9991B353A2F9BC45A3EC62AA1AEFEA7B04F4A557DC2',1225003);
insert into "_sqlx_migrations" values (14,'cookbook','2026-12-01 17:41:26',1,X'B63575524324AFB0F7929707214B9C8789F0495A91F0C191EAA127685023DB99BAADC35BFA2748DE838CAD8FF5F19750',382398);
insert into "_sqlx_migrations" values (15,'shopping','2026-12-01 17:41:26',1,X'4C5CAA936FB9B88E2F6CCC56F894E4EADB674CA814604BF96C087178DEE0AF377D19F93D01F6C545E2CEA544341593DE',668996);
insert into "_sqlx_migrations" values (16,'people','2026-12-01 17:41:26',1,X'E26D6A8DB7AC8505B297BBD5CDB104C80E1F320BE04D8AAF4F7F9C8364F71999309313704C96F509908B1161CFF0F573',4144534);
insert into "_sqlx_migrations" values (18,'home levels','2026-12-01 17:41:26',1,X'10649A20A188CE90FD1CF4CA97D8211878074F1880519147365FE1EA7952ACAC67A2D00A80E436E2FFEF4506EE9BFC80',464845);
insert into "_sqlx_migrations" values (19,'table','2026-12-01 17:41:26',1,X'97BFA64ADD533A07F3596D33BEC5A51B3B9DD3080BB54F4FDF814A30315BAC79CC8F5F42C228E17C95AB55D5B9859832',925203);
insert into "_sqlx_migrations" values (2,'answers','2026-12-01 17:41:26',1,X'85C0988CCE769DD4666193E3F9CA570D9DB1A413EE36D35FDBD60DD90B384B4A6AE8227CCA31B399B6B6B42A1D7CB5E0',3620213);
insert into "_sqlx_migrations" values (20,'contents','2026-12-01 17:41:26',1,X'F64EF9092879211FB8749C88874D1A257B76737DB05CBB9E351305BBC2DE29F831067F457CB77E9BB2613A664B45BD12',2834397);
insert into "_sqlx_migrations" values (3,'parts','2026-12-01 17:41:26',1,X'E1D036D65B89652AE6DB1D2B2B9F3FCB40DFB4B2300DF08C5782C1782245CD49368BDEC47B7D905CE2FFBC462AB6F48C',2782191);
insert into "_sqlx_migrations" values (4,'lots that move','2026-12-01 17:41:26',1,X'4B2BBF2440332BDA5FD9188FCBDA0C94B66942651A07B6AF0B47D8BAB711D2A51117D7519DF9A8F9DD85178D40BA1961',12046596);
insert into "_sqlx_migrations" values (5,'stock from anywhere','2026-12-01 17:41:26',1,X'2B6B3E3558E987236E70A89CA2530980A00D660E0FFA9BBDA0A576F01496C5E7AEF756B295D24C086C26B298533E85D2',12901030);
insert into "_sqlx_migrations" values (7,'unweighed','2026-12-01 17:41:26',1,X'CC6A2FCAC0ADBA7DB65EC32178DB735FA80B7880188115C7FEFEC5FC54B8FDA1CF695F215ABA667191509ADE92FC638B',1801629);
insert into "_sqlx_migrations" values (8,'board','2026-12-01 17:41:26',1,X'6F308DDE5360F678E7D56FBAC1CB3C4769EF00813EA7D1D35AFC7ACB3C9DB324CC3FE2E30DD1BF024A792CC5C7B950A5',4361601);
insert into "_sqlx_migrations" values (9,'pictures','2026-12-01 17:41:26',1,X'DA4128779325D3E53E93033212AA9CA7957799F613A0057F7265F3B854A52A0BB0060261218D8D6844D9A5AF2BA2CD22',1351352);
insert into "household" values (1,'c1','Europe/Dublin','2026-10-14T17:03:00.000Z');
insert into "person" values (1,'2026-10-14T17:03:00.000Z');
insert into "person" values (2,'2026-10-14T17:07:00.000Z');
insert into "identity" values ('bridge','u-Ana',2);
insert into "identity" values ('bridge','u-Robin',1);
insert into "member" values (1,1,1,'Robin',0,'2026-10-14T17:03:00.000Z',NULL);
insert into "member" values (1,2,2,'Ana',0,'2026-10-14T17:07:00.000Z',NULL);
insert into "member" values (1,3,NULL,'Mia',0,'2026-10-14T18:25:00.000Z','2026-10-14T18:25:00.000Z');
insert into "chat" values ('bridge','c1',1,0,NULL);
insert into "message" values (1,'bridge','c1','m3',0,'message','u-Robin','Robin','batch lentil dal
500 g red lentils
2 tbsp sunflower oil
1 medium onion
10 g salt
cooked 2310 in the pot, pot 470
freezer',NULL,NULL,0,0,NULL,'2026-10-14T17:03:00.000Z','2026-10-14T17:03:00.000Z',0,'recorded',1,1);
insert into "message" values (10,'bridge','c1','m12',0,'message','u-Robin','Robin','blue pot is 812 g empty',NULL,NULL,0,0,NULL,'2026-10-14T17:12:00.000Z','2026-10-14T17:12:00.000Z',0,'recorded',1,1);
insert into "message" values (11,'bridge','c1','m13',0,'message','u-Robin','Robin','blue pot holds dal',NULL,NULL,0,0,NULL,'2026-10-14T17:13:00.000Z','2026-10-14T17:13:00.000Z',0,'recorded',1,1);
insert into "message" values (12,'bridge','c1','m14',0,'message','u-Ana','Ana','1 ladle dal = 180 g',NULL,NULL,0,0,NULL,'2026-10-14T17:14:00.000Z','2026-10-14T17:14:00.000Z',0,'recorded',1,2);
insert into "message" values (13,'bridge','c1','m15',0,'message','u-Robin','Robin','packet miso paste per 100 g: 199 kcal, 12 protein, 6 fat, 26 carb, 5.4 fibre, salt 9.3 g',NULL,NULL,0,0,NULL,'2026-10-14T17:15:00.000Z','2026-10-14T17:15:00.000Z',0,'recorded',1,1);
insert into "message" values (14,'bridge','c1','m16',0,'message','u-Robin','Robin','recount: rice 900',NULL,NULL,0,0,NULL,'2026-10-14T17:16:00.000Z','2026-10-14T17:16:00.000Z',0,'recorded',1,1);
insert into "message" values (15,'bridge','c1','m17',0,'message','u-Ana','Ana','binned 100 rice',NULL,NULL,0,0,NULL,'2026-10-14T17:17:00.000Z','2026-10-14T17:17:00.000Z',0,'recorded',1,2);
insert into "message" values (16,'bridge','c1','m18',0,'message','u-Robin','Robin','batch chicken, 1 kg raw chicken thighs, 40 g soy sauce, cooked 700',NULL,NULL,0,0,NULL,'2026-10-14T17:18:00.000Z','2026-10-14T17:18:00.000Z',0,'recorded',1,1);
insert into "message" values (17,'bridge','c1','m19',0,'message','u-Robin','Robin','drained 35 g fat from the chicken',NULL,NULL,0,0,NULL,'2026-10-14T17:19:00.000Z','2026-10-14T17:19:00.000Z',0,'recorded',1,1);
insert into "message" values (18,'bridge','c1','m20',0,'message','u-Robin','Robin','batch bake, 300 g dal, 200 g rice, cooked 480',NULL,NULL,0,0,NULL,'2026-10-14T17:20:00.000Z','2026-10-14T17:20:00.000Z',0,'recorded',1,1);
insert into "message" values (19,'bridge','c1','m21',0,'message','u-Ana','Ana','make it 160',NULL,NULL,0,0,NULL,'2026-10-14T17:21:00.000Z','2026-10-14T17:21:00.000Z',0,'recorded',1,2);
insert into "message" values (2,'bridge','c1','m4',0,'message','u-Robin','Robin','140 dal',NULL,NULL,0,0,NULL,'2026-10-14T17:04:00.000Z','2026-10-14T17:04:00.000Z',0,'recorded',1,1);
insert into "message" values (20,'bridge','c1','m22',0,'message','u-Robin','Robin','metric cups',NULL,NULL,0,0,NULL,'2026-10-14T17:22:00.000Z','2026-10-14T17:22:00.000Z',0,'recorded',1,1);
insert into "message" values (21,'bridge','c1','m23',0,'message','u-Robin','Robin','good morning all',NULL,NULL,0,0,NULL,'2026-10-14T17:23:00.000Z','2026-10-14T17:23:00.000Z',0,'ignored',1,1);
insert into "message" values (22,'bridge','c1','m26',0,'message','u-Ana','Ana','recount: rice 100',NULL,NULL,0,0,NULL,'2026-10-14T17:26:00.000Z','2026-10-14T17:26:00.000Z',0,'recorded',1,2);
insert into "message" values (23,'bridge','c1','m27',0,'message','u-Ana','Ana','yes',NULL,NULL,0,0,NULL,'2026-10-14T17:27:00.000Z','2026-10-14T17:27:00.000Z',0,'recorded',1,2);
insert into "message" values (24,'bridge','c1','m28',0,'message','u-Ana','Ana','2 ladles dal',NULL,NULL,0,0,NULL,'2026-10-14T17:28:00.000Z','2026-10-14T17:28:00.000Z',0,'recorded',1,2);
insert into "message" values (25,'bridge','c1','m31',0,'message','u-Robin','Robin','froze 40 of the rice',NULL,NULL,0,0,NULL,'2026-10-14T17:31:00.000Z','2026-10-14T17:31:00.000Z',0,'recorded',1,1);
insert into "message" values (26,'bridge','c1','m32',0,'message','u-Robin','Robin','thaw 30 rice for tomorrow',NULL,NULL,0,0,NULL,'2026-10-14T17:32:00.000Z','2026-10-14T17:32:00.000Z',0,'recorded',1,1);
insert into "message" values (27,'bridge','c1','m35',0,'message','u-Robin','Robin','batch meatballs, 500 g raw minced beef, cooked 400, fridge',NULL,NULL,0,0,NULL,'2026-10-14T17:35:00.000Z','2026-10-14T17:35:00.000Z',0,'recorded',1,1);
insert into "message" values (28,'bridge','c1','m36',0,'message','u-Robin','Robin','14 meatballs, 400 g',NULL,NULL,0,0,NULL,'2026-10-14T17:36:00.000Z','2026-10-14T17:36:00.000Z',0,'recorded',1,1);
insert into "message" values (29,'bridge','c1','m37',0,'message','u-Robin','Robin','bought 500 g tofu, fridge, use by 3 Dec',NULL,NULL,0,0,NULL,'2026-10-14T17:37:00.000Z','2026-10-14T17:37:00.000Z',0,'recorded',1,1);
insert into "message" values (3,'bridge','c1','m5',0,'message','u-Robin','Robin','undo',NULL,NULL,0,0,NULL,'2026-10-14T17:05:00.000Z','2026-10-14T17:05:00.000Z',0,'recorded',1,1);
insert into "message" values (30,'bridge','c1','m38',0,'message','u-Ana','Ana','there was already 700 chilli in the freezer',NULL,NULL,0,0,NULL,'2026-10-14T17:38:00.000Z','2026-10-14T17:38:00.000Z',0,'recorded',1,2);
insert into "message" values (31,'bridge','c1','m39',0,'message','u-Robin','Robin','dal keeps 3 days',NULL,NULL,0,0,NULL,'2026-10-14T17:39:00.000Z','2026-10-14T17:39:00.000Z',0,'recorded',1,1);
insert into "message" values (32,'bridge','c1','m40',0,'message','u-Robin','Robin','the cellar is like a fridge',NULL,NULL,0,0,NULL,'2026-10-14T17:40:00.000Z','2026-10-14T17:40:00.000Z',0,'recorded',1,1);
insert into "message" values (33,'bridge','c1','m43',0,'message','u-Ana','Ana','took some rice',NULL,NULL,0,0,NULL,'2026-10-14T17:43:00.000Z','2026-10-14T17:43:00.000Z',0,'recorded',1,2);
insert into "message" values (34,'bridge','c1','m44',0,'message','u-Robin','Robin','binned 50 chicken, slimy',NULL,NULL,0,0,NULL,'2026-10-14T17:44:00.000Z','2026-10-14T17:44:00.000Z',0,'recorded',1,1);
insert into "message" values (35,'bridge','c1','m45',0,'message','u-Robin','Robin','dal cost 6.40',NULL,NULL,0,0,NULL,'2026-10-14T17:45:00.000Z','2026-10-14T17:45:00.000Z',0,'recorded',1,1);
insert into "message" values (36,'bridge','c1','m48',0,'message','u-Robin','Robin','label dal',NULL,NULL,0,0,NULL,'2026-10-14T17:48:00.000Z','2026-10-14T17:48:00.000Z',0,'answered',1,1);
insert into "message" values (37,'bridge','c1','m51',0,'message','u-Robin','Robin','the sauce is in the glass jar now',NULL,NULL,0,0,NULL,'2026-10-14T17:51:00.000Z','2026-10-14T17:51:00.000Z',0,'recorded',1,1);
insert into "message" values (38,'bridge','c1','m54',0,'message','u-Robin','Robin','35 min dal',NULL,NULL,0,0,NULL,'2026-10-14T17:54:00.000Z','2026-10-14T17:54:00.000Z',0,'recorded',1,1);
insert into "message" values (39,'bridge','c1','m55',0,'message','u-Ana','Ana','remind me Sunday at 10 to soak the beans',NULL,NULL,0,0,NULL,'2026-10-14T17:55:00.000Z','2026-10-14T17:55:00.000Z',0,'recorded',1,2);
insert into "message" values (4,'bridge','c1','m6',0,'message','u-Robin','Robin','batch rice, 400 g dry white rice, cooked 1150, fridge',NULL,NULL,0,0,NULL,'2026-10-14T17:06:00.000Z','2026-10-14T17:06:00.000Z',0,'recorded',1,1);
insert into "message" values (40,'bridge','c1','m56',0,'message','u-Robin','Robin','cancel the dal timer',NULL,NULL,0,0,NULL,'2026-10-14T17:56:00.000Z','2026-10-14T17:56:00.000Z',0,'recorded',1,1);
insert into "message" values (41,'bridge','c1','m57',0,'message','u-Ana','Ana','Ana is away on Friday',NULL,NULL,0,0,NULL,'2026-10-14T17:57:00.000Z','2026-10-14T17:57:00.000Z',0,'recorded',1,2);
insert into "message" values (42,'bridge','c1','m60',0,'message','u-Robin','Robin','parsnips 1150, trimmed 980',NULL,NULL,0,0,NULL,'2026-10-14T18:00:00.000Z','2026-10-14T18:00:00.000Z',0,'recorded',1,1);
insert into "message" values (43,'bridge','c1','m61',0,'message','u-Robin','Robin','lentils come in 500 g bags',NULL,NULL,0,0,NULL,'2026-10-14T18:01:00.000Z','2026-10-14T18:01:00.000Z',0,'recorded',1,1);
insert into "message" values (44,'bridge','c1','m62',0,'message','u-Robin','Robin','@hobside lentils cost 2.40 a kilo',NULL,NULL,0,0,NULL,'2026-10-14T18:02:00.000Z','2026-10-14T18:02:00.000Z',0,'recorded',1,1);
insert into "message" values (45,'bridge','c1','m63',0,'message','u-Robin','Robin','keep 800 g dal ready',NULL,NULL,0,0,NULL,'2026-10-14T18:03:00.000Z','2026-10-14T18:03:00.000Z',0,'recorded',1,1);
insert into "message" values (46,'bridge','c1','m64',0,'message','u-Robin','Robin','big pot holds 4 kg',NULL,NULL,0,0,NULL,'2026-10-14T18:04:00.000Z','2026-10-14T18:04:00.000Z',0,'recorded',1,1);
insert into "message" values (47,'bridge','c1','m65',0,'message','u-Robin','Robin','we have 4 burners',NULL,NULL,0,0,NULL,'2026-10-14T18:05:00.000Z','2026-10-14T18:05:00.000Z',0,'recorded',1,1);
insert into "message" values (48,'bridge','c1','m66',0,'message','u-Robin','Robin','rice for 6 on Friday',NULL,NULL,0,0,NULL,'2026-10-14T18:06:00.000Z','2026-10-14T18:06:00.000Z',0,'recorded',1,1);
insert into "message" values (49,'bridge','c1','m67',0,'message','u-Robin','Robin','dal steps: soak 8 h, simmer 35 min on a burner, freeze flat 2 h',NULL,NULL,0,0,NULL,'2026-10-14T18:07:00.000Z','2026-10-14T18:07:00.000Z',0,'recorded',1,1);
insert into "message" values (5,'bridge','c1','m7',0,'message','u-Ana','Ana','140 dal, 180 rice, 2 tsp olive oil',NULL,NULL,0,0,NULL,'2026-10-14T17:07:00.000Z','2026-10-14T17:07:00.000Z',0,'recorded',1,2);
insert into "message" values (50,'bridge','c1','m70',0,'message','u-Robin','Robin','batch lentil dal, 600 g red lentils, 40 g sunflower oil',NULL,NULL,0,0,NULL,'2026-10-14T18:10:00.000Z','2026-10-14T18:10:00.000Z',0,'recorded',1,1);
insert into "message" values (51,'bridge','c1','m73',0,'message','u-Robin','Robin','@hobside put 2 kg onions on the list',NULL,NULL,0,0,NULL,'2026-10-14T18:13:00.000Z','2026-10-14T18:13:00.000Z',0,'recorded',1,1);
insert into "message" values (52,'bridge','c1','m74',0,'message','u-Ana','Ana','got the onions',NULL,NULL,0,0,NULL,'2026-10-14T18:14:00.000Z','2026-10-14T18:14:00.000Z',0,'recorded',1,2);
insert into "message" values (53,'bridge','c1','m77',0,'message','u-Robin','Robin','target 2200 kcal, 120-140 protein, at least 30 fibre',NULL,NULL,0,0,NULL,'2026-10-14T18:17:00.000Z','2026-10-14T18:17:00.000Z',0,'recorded',1,1);
insert into "message" values (54,'bridge','c1','m78',0,'message','u-Ana','Ana','no numbers for me',NULL,NULL,0,0,NULL,'2026-10-14T18:18:00.000Z','2026-10-14T18:18:00.000Z',0,'recorded',1,2);
insert into "message" values (55,'bridge','c1','m79',0,'message','u-Ana','Ana','my totals in private',NULL,NULL,0,0,NULL,'2026-10-14T18:19:00.000Z','2026-10-14T18:19:00.000Z',0,'recorded',1,2);
insert into "message" values (56,'bridge','c1','m82',0,'message','u-Robin','Robin','@hobside keep 500 g oats at home',NULL,NULL,0,0,NULL,'2026-10-14T18:22:00.000Z','2026-10-14T18:22:00.000Z',0,'recorded',1,1);
insert into "message" values (57,'bridge','c1','m85',0,'message','u-Robin','Robin','add guest Mia',NULL,NULL,0,0,NULL,'2026-10-14T18:25:00.000Z','2026-10-14T18:25:00.000Z',0,'recorded',1,1);
insert into "message" values (58,'bridge','c1','m86',0,'message','u-Ana','Ana','also call me Annie',NULL,NULL,0,0,NULL,'2026-10-14T18:26:00.000Z','2026-10-14T18:26:00.000Z',0,'recorded',1,2);
insert into "message" values (59,'bridge','c1','m87',0,'message','u-Ana','Ana','I am allergic to peanuts',NULL,NULL,0,0,NULL,'2026-10-14T18:27:00.000Z','2026-10-14T18:27:00.000Z',0,'recorded',1,2);
insert into "message" values (6,'bridge','c1','m8',0,'message','u-Robin','Robin','batch tomato sauce, 800 g canned tomatoes, 2 tbsp olive oil',NULL,NULL,0,0,NULL,'2026-10-14T17:08:00.000Z','2026-10-14T17:08:00.000Z',0,'recorded',1,1);
insert into "message" values (60,'bridge','c1','m88',0,'message','u-Robin','Robin','I don''t eat pork',NULL,NULL,0,0,NULL,'2026-10-14T18:28:00.000Z','2026-10-14T18:28:00.000Z',0,'recorded',1,1);
insert into "message" values (61,'bridge','c1','m91',0,'message','u-Robin','Robin','packet oat bars per 100 g: 430 kcal, 8 protein, 15 fat, 62 carb',NULL,NULL,0,0,NULL,'2026-10-14T18:31:00.000Z','2026-10-14T18:31:00.000Z',0,'recorded',1,1);
insert into "message" values (62,'bridge','c1','m92',0,'message','u-Robin','Robin','oat bars contain hazelnuts and milk',NULL,NULL,0,0,NULL,'2026-10-14T18:32:00.000Z','2026-10-14T18:32:00.000Z',0,'recorded',1,1);
insert into "message" values (7,'bridge','c1','m9',0,'message','u-Ana','Ana','sauce + 5 g salt',NULL,NULL,0,0,NULL,'2026-10-14T17:09:00.000Z','2026-10-14T17:09:00.000Z',0,'recorded',1,2);
insert into "message" values (8,'bridge','c1','m10',0,'message','u-Ana','Ana','150 sauce',NULL,NULL,0,0,NULL,'2026-10-14T17:10:00.000Z','2026-10-14T17:10:00.000Z',0,'recorded',1,2);
insert into "message" values (9,'bridge','c1','m11',0,'message','u-Robin','Robin','tomato sauce weighed 760',NULL,NULL,0,0,NULL,'2026-10-14T17:11:00.000Z','2026-10-14T17:11:00.000Z',0,'recorded',1,1);
insert into "outbox" values (1,1,'bridge','c1',NULL,'reply',NULL,'m3','lentil dal D1, made Wed 14 Oct
1840 g net, yield 2.84
Per 100 g: 113 kcal, protein 6.6 g,
fat 2.1 g, carbs 18 g, fibre 3 g,
sodium 213 mg
Whole: 2074 kcal, protein 121 g,
fat 38 g, carbs 326 g, fibre 56 g,
sodium 3915 mg

1. 500 g Lentils, pink or red, raw;
  cooked is NDB 16070
2. ~27 g Oil, sunflower, linoleic; other
  kinds: NDB 04584
3. ~110 g Onions, raw; cooked is
  NDB 11283
4. 10 g Salt, table
~ is an estimate from a measure

In the freezer, use by 14 Jan 2027 (3
months frozen, at its best; HHS)

Cool and chill it within 2 h (FSIS).','[[0,10],[65,73],[145,154]]','[[["Undo","undo 1"]]]','{"kind":"batch","batch":{"code":"D1","name":"lentil dal","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":647.2,"net_grams":1840.0,"yield":2.8430160692212607,"expected":null,"pieces":null,"ingredients":[{"text":"500 g red lentils","food":"NDB 16144","batch":null,"packet":null,"grams":500.0,"estimated":false},{"text":"2 tbsp sunflower oil","food":"NDB 04506","batch":null,"packet":null,"grams":27.2,"estimated":true},{"text":"1 medium onion","food":"NDB 11282","batch":null,"packet":null,"grams":110.0,"estimated":true},{"text":"10 g salt","food":"NDB 02047","batch":null,"packet":null,"grams":10.0,"estimated":false}],"totals":{"energy_kcal":2074.448,"protein_g":120.75999999999999,"fat_g":38.16,"saturated_fat_g":4.7428,"carbohydrate_g":325.774,"sugars_g":4.664000000000001,"fibre_g":55.87,"sodium_mg":3915.2000000000003,"potassium_mg":3501.4,"calcium_mg":267.7,"iron_mg":37.214000000000006,"cholesterol_mg":0.0,"water_g":1329.941,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]},"per_100g":{"energy_kcal":112.74173913043477,"protein_g":6.563043478260869,"fat_g":2.0739130434782607,"saturated_fat_g":0.2577608695652174,"carbohydrate_g":17.705108695652175,"sugars_g":0.25347826086956526,"fibre_g":3.0364130434782606,"sodium_mg":212.7826086956522,"potassium_mg":190.29347826086956,"calcium_mg":14.54891304347826,"iron_mg":2.0225000000000004,"cholesterol_mg":0.0,"water_g":72.27940217391304,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]},"allergens":[],"allergens_unknown":[],"avoided":[],"lots":[{"place":"freezer","vessel":null,"grams":1840.0,"pieces":null,"use_by":"2027-01-14"}]},"cautions":[{"code":"cool","about":"lentil dal"}]}',1,'2026-10-14T17:03:00.000Z','o1','2026-10-14T17:03:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (10,10,'bridge','c1',NULL,'reply',NULL,'m12','blue pot: 812 g empty.','[[0,8]]','[]','{"kind":"container","name":"blue pot","tare_grams":812.0,"holds":null}',0,'2026-10-14T17:12:00.000Z','o10','2026-10-14T17:12:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (11,11,'bridge','c1',NULL,'reply',NULL,'m13','blue pot holds lentil dal.','[[0,8]]','[]','{"kind":"container","name":"blue pot","tare_grams":null,"holds":"lentil dal"}',0,'2026-10-14T17:13:00.000Z','o11','2026-10-14T17:13:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (12,12,'bridge','c1',NULL,'reply',NULL,'m14','1 ladle dal is 180 g from now on.','[]','[]','{"kind":"measure","measure":"ladle","name":"dal","grams":180.0}',0,'2026-10-14T17:14:00.000Z','o12','2026-10-14T17:14:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (13,13,'bridge','c1',NULL,'reply',NULL,'m15','Packet kept: miso paste
Per 100 g: 199 kcal, protein 12 g,
fat 6 g, carbs 26 g, fibre 5.4 g,
sodium 3720 mg','[[13,23],[35,43]]','[[["Undo","undo 13"]]]','{"kind":"packet","name":"miso paste","per_100g":{"energy_kcal":199.0,"protein_g":12.0,"fat_g":6.0,"saturated_fat_g":null,"carbohydrate_g":26.0,"sugars_g":null,"fibre_g":5.4,"sodium_mg":3720.0,"potassium_mg":null,"calcium_mg":null,"iron_mg":null,"cholesterol_mg":null,"water_g":null,"alcohol_g":null},"serving_grams":null,"doubt":null}',0,'2026-10-14T17:15:00.000Z','o13','2026-10-14T17:15:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (14,14,'bridge','c1',NULL,'reply',NULL,'m16','Counted: rice R2, 900 g, 70 g less than
  the books','[[9,13]]','[[["Undo","undo 14"]]]','{"kind":"count","lines":[{"name":"rice","batch":"R2","place":null,"grams":900.0,"difference_grams":-70.0,"unweighed_grams":0.0}],"walk":false,"elsewhere":[]}',1,'2026-10-14T17:16:00.000Z','o14','2026-10-14T17:16:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (15,15,'bridge','c1',NULL,'reply',NULL,'m17','Thrown away: 100 g rice R2, 800 g left','[[19,23]]','[[["Undo","undo 15"]]]','{"kind":"waste","lines":[{"name":"rice","batch":"R2","grams":100.0,"left_grams":800.0}],"reason":null}',1,'2026-10-14T17:17:00.000Z','o15','2026-10-14T17:17:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (16,16,'bridge','c1',NULL,'reply',NULL,'m18','chicken C4, made Wed 14 Oct
700 g net, yield 0.67
Per 100 g: 176 kcal, protein 29 g,
fat 5.9 g, carbs 0.3 g, fibre 0 g,
sodium 450 mg
Whole: 1231 kcal, protein 200 g,
fat 41 g, carbs 2 g, fibre 0.3 g,
sodium 3147 mg

1. 1000 g Chicken, dark meat, thigh,
  meat only, raw; other kinds: NDB 05091
2. 40 g Soy sauce made from soy and
  wheat; other kinds: NDB 16424,
  NDB 16124

Kept in the fridge: use by 16 Oct 2026
(2 days from making; UK FSA)

Poultry is safe at 74 C (165 F) in the
middle (FSIS).','[[0,7],[61,69],[141,150]]','[[["Undo","undo 16"]]]','{"kind":"batch","batch":{"code":"C4","name":"chicken","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":1040.0,"net_grams":700.0,"yield":0.6730769230769231,"expected":null,"pieces":null,"ingredients":[{"text":"1 kg raw chicken thighs","food":"NDB 05096","batch":null,"packet":null,"grams":1000.0,"estimated":false},{"text":"40 g soy sauce","food":"NDB 16123","batch":null,"packet":null,"grams":40.0,"estimated":false}],"totals":{"energy_kcal":1231.2,"protein_g":199.856,"fat_g":41.428000000000004,"saturated_fat_g":10.9992,"carbohydrate_g":1.972,"sugars_g":0.16,"fibre_g":0.32,"sodium_mg":3147.2,"potassium_mg":2594.0,"calcium_mg":83.2,"iron_mg":8.68,"cholesterol_mg":940.0,"water_g":450.6600000000001,"alcohol_g":0.0},"per_100g":{"energy_kcal":175.88571428571427,"protein_g":28.55085714285714,"fat_g":5.918285714285714,"saturated_fat_g":1.5713142857142857,"carbohydrate_g":0.2817142857142857,"sugars_g":0.022857142857142857,"fibre_g":0.045714285714285714,"sodium_mg":449.59999999999997,"potassium_mg":370.57142857142856,"calcium_mg":11.885714285714286,"iron_mg":1.24,"cholesterol_mg":134.28571428571428,"water_g":64.38000000000001,"alcohol_g":0.0},"allergens":["wheat","cereals containing gluten","soybeans"],"allergens_unknown":[],"avoided":[],"lots":[{"place":null,"vessel":null,"grams":700.0,"pieces":null,"use_by":"2026-10-16"}]},"cautions":[{"code":"poultry","about":"chicken"}]}',1,'2026-10-14T17:18:00.000Z','o16','2026-10-14T17:18:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (17,17,'bridge','c1',NULL,'reply',NULL,'m19','chicken C4, 35 g poured off
665 g net, yield 0.64
Per 100 g: 138 kcal, protein 30 g,
fat 1 g, carbs 0.3 g, fibre 0 g,
sodium 473 mg
Whole: 916 kcal, protein 200 g,
fat 6.4 g, carbs 2 g, fibre 0.3 g,
sodium 3147 mg

Poured off: 35 g fat
Kept in the fridge: use by 16 Oct 2026
(2 days from making; UK FSA)','[[0,7],[61,69],[139,147]]','[[["Undo","undo 17"]]]','{"kind":"batch","batch":{"code":"C4","name":"chicken","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":1040.0,"net_grams":665.0,"yield":0.6394230769230769,"expected":null,"pieces":null,"ingredients":[{"text":"1 kg raw chicken thighs","food":"NDB 05096","batch":null,"packet":null,"grams":1000.0,"estimated":false},{"text":"40 g soy sauce","food":"NDB 16123","batch":null,"packet":null,"grams":40.0,"estimated":false}],"totals":{"energy_kcal":916.2,"protein_g":199.856,"fat_g":6.428000000000004,"saturated_fat_g":1.706644240610217,"carbohydrate_g":1.972,"sugars_g":0.16,"fibre_g":0.32,"sodium_mg":3147.2,"potassium_mg":2594.0,"calcium_mg":83.2,"iron_mg":8.68,"cholesterol_mg":940.0,"water_g":450.6600000000001,"alcohol_g":0.0},"per_100g":{"energy_kcal":137.77443609022555,"protein_g":30.053533834586464,"fat_g":0.966616541353384,"saturated_fat_g":0.2566382316707093,"carbohydrate_g":0.2965413533834586,"sugars_g":0.024060150375939848,"fibre_g":0.048120300751879695,"sodium_mg":473.26315789473676,"potassium_mg":390.0751879699248,"calcium_mg":12.511278195488721,"iron_mg":1.3052631578947367,"cholesterol_mg":141.35338345864662,"water_g":67.76842105263158,"alcohol_g":0.0},"allergens":["wheat","cereals containing gluten","soybeans"],"allergens_unknown":[],"avoided":[],"lots":[{"place":null,"vessel":null,"grams":665.0,"pieces":null,"use_by":"2026-10-16"}]}}',1,'2026-10-14T17:19:00.000Z','o17','2026-10-14T17:19:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (18,18,'bridge','c1',NULL,'reply',NULL,'m20','bake B5, made Wed 14 Oct
480 g net, yield 0.96
Per 100 g, at least: 54 kcal,
protein 1.1 g, fat 0.1 g, carbs 12 g,
fibre 0.3 g, sodium 0 mg
Whole, at least: 260 kcal,
protein 5.2 g, fat 0.7 g, carbs 56 g,
fibre 1.3 g, sodium 1 mg

1. 300 g dal: no such food known,
  nutrients unknown
2. 200 g rice (batch R2)

Kept in the fridge: use by 15 Oct 2026
(1 day from making; UK FSA)

Line 1: "300 g dal"
"dal" is no batch, packet or food known
here.
Its packet, then the line again:
packet dal per 100 g: 350 kcal, 9 protein, 2 fat, 70 carb
B5 line 1: 300 g dal
The rest of the batch stands.

Rice: cool, chill within 1 h (UK FSA).','[[0,4],[68,75],[157,165]]','[[["Undo","undo 18"]]]','{"kind":"batch","batch":{"code":"B5","name":"bake","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":500.0,"net_grams":480.0,"yield":0.96,"expected":null,"pieces":null,"ingredients":[{"text":"300 g dal","food":null,"batch":null,"packet":null,"grams":300.0,"estimated":false},{"text":"200 g rice","food":null,"batch":"R2","packet":null,"grams":200.0,"estimated":false}],"totals":{"energy_kcal":260.17391304347825,"protein_g":5.224347826086956,"fat_g":0.7165217391304348,"saturated_fat_g":0.20452173913043475,"carbohydrate_g":56.27130434782609,"sugars_g":0.22956521739130437,"fibre_g":1.2521739130434784,"sodium_mg":1.391304347826087,"potassium_mg":121.04347826086956,"calcium_mg":49.391304347826086,"iron_mg":2.316521739130435,"cholesterol_mg":0.0,"water_g":117.29391304347826,"alcohol_g":0.0,"at_least":["energy_kcal","protein_g","fat_g","saturated_fat_g","carbohydrate_g","sugars_g","fibre_g","sodium_mg","potassium_mg","calcium_mg","iron_mg","cholesterol_mg","water_g","alcohol_g"]},"per_100g":{"energy_kcal":54.20289855072464,"protein_g":1.0884057971014491,"fat_g":0.1492753623188406,"saturated_fat_g":0.04260869565217391,"carbohydrate_g":11.723188405797103,"sugars_g":0.04782608695652175,"fibre_g":0.26086956521739135,"sodium_mg":0.2898550724637681,"potassium_mg":25.217391304347828,"calcium_mg":10.289855072463768,"iron_mg":0.48260869565217396,"cholesterol_mg":0.0,"water_g":24.43623188405797,"alcohol_g":0.0,"at_least":["energy_kcal","protein_g","fat_g","saturated_fat_g","carbohydrate_g","sugars_g","fibre_g","sodium_mg","potassium_mg","calcium_mg","iron_mg","cholesterol_mg","water_g","alcohol_g"]},"allergens":[],"allergens_unknown":["dal"],"avoided":[],"lots":[{"place":null,"vessel":null,"grams":480.0,"pieces":null,"use_by":"2026-10-15"}]},"pending":[{"line":1,"code":"unknown_food","candidates":[]}],"also":[{"kind":"ask","about":"which_food","options":[],"problem":"unknown_food"}],"cautions":[{"code":"cool_rice","about":"bake"}]}',0,'2026-10-14T17:20:00.000Z','o18','2026-10-14T17:20:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (19,19,'bridge','c1',NULL,'reply',NULL,'m21','Thrown away: 160 g rice R2, 540 g left','[[19,23]]','[[["Undo","undo 19"]]]','{"kind":"waste","lines":[{"name":"rice","batch":"R2","grams":160.0,"left_grams":540.0}],"reason":null}',1,'2026-10-14T17:21:00.000Z','o19','2026-10-14T17:21:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (2,2,'bridge','c1',NULL,'reply',NULL,'m4','Robin, Wed 14 Oct
140 g lentil dal D1:
158 kcal, protein 9.2 g, fat 2.9 g,
carbs 25 g, fibre 4.3 g, sodium 298 mg
Left: 1700 g','[[24,34],[39,47]]','[[["Undo","undo 2"]]]','{"kind":"portion","plates":[{"member":"Robin","day":"2026-10-14","meal":null,"lines":[{"name":"lentil dal","batch":"D1","food":null,"grams":140.0,"left_grams":1700.0,"left_pieces":null,"nutrients":{"energy_kcal":157.8384347826087,"protein_g":9.188260869565218,"fat_g":2.9034782608695653,"saturated_fat_g":0.36086521739130434,"carbohydrate_g":24.787152173913046,"sugars_g":0.3548695652173914,"fibre_g":4.250978260869565,"sodium_mg":297.8956521739131,"potassium_mg":266.4108695652174,"calcium_mg":20.368478260869566,"iron_mg":2.8315000000000006,"cholesterol_mg":0.0,"water_g":101.19116304347827,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]},"lots":[{"place":"freezer","grams":140.0}]}],"totals":{"energy_kcal":157.8384347826087,"protein_g":9.188260869565218,"fat_g":2.9034782608695653,"saturated_fat_g":0.36086521739130434,"carbohydrate_g":24.787152173913046,"sugars_g":0.3548695652173914,"fibre_g":4.250978260869565,"sodium_mg":297.8956521739131,"potassium_mg":266.4108695652174,"calcium_mg":20.368478260869566,"iron_mg":2.8315000000000006,"cholesterol_mg":0.0,"water_g":101.19116304347827,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]}}],"avoided":[]}',1,'2026-10-14T17:04:00.000Z','o2','2026-10-14T17:04:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (20,20,'bridge','c1',NULL,'reply',NULL,'m22','Cups and spoons: metric (cup 250 ml).','[]','[]','{"kind":"settings","timezone":"Europe/Dublin","measures":"metric","answers":"full","guidance":"uk","energy":"kcal","decimals":"point","day_turns":"03:00","board":true,"prep_day":null,"morning":"08:00","evening":"19:00","put_away":true,"quiet":["22:00","07:00"],"own":null}',0,'2026-10-14T17:22:00.000Z','o20','2026-10-14T17:22:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (21,22,'bridge','c1',NULL,'reply',NULL,'m26','rice: 100 g counted, 540 g by the books.
Which is right?
1. yes, 100 g
2. no, the books are right: 540 g
Answer 1, 2 or cancel.','[]','[[["yes, 100 g","choose 3 0"]],[["no, the books are right: 540 g","choose 3 1"]]]','{"kind":"ask","about":"confirm","options":["yes, 100 g","no, the books are right: 540 g"],"problem":"far_from_books"}',0,'2026-10-14T17:26:00.000Z','o21','2026-10-14T17:26:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (22,23,'bridge','c1',NULL,'reply',NULL,'m27','Counted: rice R2, 100 g, 440 g less than
  the books','[[9,13]]','[[["Undo","undo 22"]]]','{"kind":"count","lines":[{"name":"rice","batch":"R2","place":null,"grams":100.0,"difference_grams":-440.0,"unweighed_grams":0.0}],"walk":false,"elsewhere":[]}',1,'2026-10-14T17:27:00.000Z','o22','2026-10-14T17:27:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (23,24,'bridge','c1',NULL,'reply',NULL,'m28','Ana, Wed 14 Oct
~360 g lentil dal D1:
~406 kcal, protein ~24 g, fat ~7.5 g,
carbs ~64 g, fibre ~11 g, sodium ~766 mg
Left: 1340 g','[[23,33],[38,47]]','[[["Undo","undo 24"]]]','{"kind":"portion","plates":[{"member":"Ana","day":"2026-10-14","meal":null,"lines":[{"name":"lentil dal","batch":"D1","food":null,"grams":360.0,"left_grams":1340.0,"left_pieces":null,"nutrients":{"energy_kcal":405.8702608695652,"protein_g":23.626956521739128,"fat_g":7.466086956521739,"saturated_fat_g":0.9279391304347826,"carbohydrate_g":63.73839130434783,"sugars_g":0.9125217391304349,"fibre_g":10.931086956521739,"sodium_mg":766.0173913043479,"potassium_mg":685.0565217391305,"calcium_mg":52.37608695652174,"iron_mg":7.2810000000000015,"cholesterol_mg":0.0,"water_g":260.205847826087,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]},"lots":[{"place":"freezer","grams":360.0}]}],"totals":{"energy_kcal":405.8702608695652,"protein_g":23.626956521739128,"fat_g":7.466086956521739,"saturated_fat_g":0.9279391304347826,"carbohydrate_g":63.73839130434783,"sugars_g":0.9125217391304349,"fibre_g":10.931086956521739,"sodium_mg":766.0173913043479,"potassium_mg":685.0565217391305,"calcium_mg":52.37608695652174,"iron_mg":7.2810000000000015,"cholesterol_mg":0.0,"water_g":260.205847826087,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]}}],"avoided":[]}',1,'2026-10-14T17:28:00.000Z','o23','2026-10-14T17:28:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (24,25,'bridge','c1',NULL,'reply',NULL,'m31','Into the freezer: 40 g rice R2
Use by 14 Jan 2027 (3 months frozen, at
its best; common practice, as for soups
and stews)
In the fridge: 60 g, use by tomorrow','[[23,27]]','[[["Undo","undo 25"]]]','{"kind":"move","thawed":false,"packed":false,"lots":[{"batch":"R2","name":"rice","place":"freezer","vessel":null,"grams":40.0,"pieces":null,"use_by":"2027-01-14"}],"elsewhere":[{"batch":"R2","name":"rice","place":"fridge","vessel":null,"grams":60.0,"pieces":null,"use_by":"2026-10-15"}]}',1,'2026-10-14T17:31:00.000Z','o24','2026-10-14T17:31:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (25,26,'bridge','c1',NULL,'reply',NULL,'m32','Thawing in the fridge: 30 g rice R2
Use by tomorrow (1 day from thawing; UK
FSA)
In the fridge: 60 g, use by tomorrow
In the freezer: 10 g, use by 14 Jan 2027','[[28,32]]','[[["Undo","undo 26"]]]','{"kind":"move","thawed":true,"packed":false,"lots":[{"batch":"R2","name":"rice","place":"fridge","vessel":null,"grams":30.0,"pieces":null,"use_by":"2026-10-15"}],"elsewhere":[{"batch":"R2","name":"rice","place":"fridge","vessel":null,"grams":60.0,"pieces":null,"use_by":"2026-10-15"},{"batch":"R2","name":"rice","place":"freezer","vessel":null,"grams":10.0,"pieces":null,"use_by":"2027-01-14"}]}',1,'2026-10-14T17:32:00.000Z','o25','2026-10-14T17:32:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (26,27,'bridge','c1',NULL,'reply',NULL,'m35','meatballs M6, made Wed 14 Oct
400 g net, yield 0.8
Per 100 g: 318 kcal, protein 21 g,
fat 25 g, carbs 0 g, fibre 0 g,
sodium 83 mg
Whole: 1270 kcal, protein 86 g,
fat 100 g, carbs 0 g, fibre 0 g,
sodium 330 mg

1. 500 g Beef, ground, 80% lean meat /
  20% fat, raw; other kinds: NDB 23567,
  NDB 23562, NDB 23557

In the fridge, use by 16 Oct 2026 (2
days from making; UK FSA)

Mince is safe at 71 C (160 F) in the
middle (FSIS).
Cool and chill it within 2 h (FSIS).','[[0,9],[62,70],[138,147]]','[[["Undo","undo 27"]]]','{"kind":"batch","batch":{"code":"M6","name":"meatballs","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":500.0,"net_grams":400.0,"yield":0.8,"expected":null,"pieces":null,"ingredients":[{"text":"500 g raw minced beef","food":"NDB 23572","batch":null,"packet":null,"grams":500.0,"estimated":false}],"totals":{"energy_kcal":1270.0,"protein_g":85.85,"fat_g":100.0,"saturated_fat_g":37.905,"carbohydrate_g":0.0,"sugars_g":0.0,"fibre_g":0.0,"sodium_mg":330.0,"potassium_mg":1350.0,"calcium_mg":90.0,"iron_mg":9.7,"cholesterol_mg":355.0,"water_g":209.35000000000002,"alcohol_g":0.0},"per_100g":{"energy_kcal":317.5,"protein_g":21.4625,"fat_g":25.0,"saturated_fat_g":9.47625,"carbohydrate_g":0.0,"sugars_g":0.0,"fibre_g":0.0,"sodium_mg":82.5,"potassium_mg":337.5,"calcium_mg":22.5,"iron_mg":2.425,"cholesterol_mg":88.75,"water_g":52.337500000000006,"alcohol_g":0.0},"allergens":[],"allergens_unknown":[],"avoided":[],"lots":[{"place":"fridge","vessel":null,"grams":400.0,"pieces":null,"use_by":"2026-10-16"}]},"cautions":[{"code":"mince","about":"meatballs"},{"code":"cool","about":"meatballs"}]}',1,'2026-10-14T17:35:00.000Z','o26','2026-10-14T17:35:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (27,28,'bridge','c1',NULL,'reply',NULL,'m36','meatballs M6, counted
400 g net, yield 0.8
14 pieces, 29 g each
Per 100 g: 318 kcal, protein 21 g,
fat 25 g, carbs 0 g, fibre 0 g,
sodium 83 mg
Whole: 1270 kcal, protein 86 g,
fat 100 g, carbs 0 g, fibre 0 g,
sodium 330 mg

In the fridge, use by 16 Oct 2026 (2
days from making; UK FSA)','[[0,9],[75,83],[151,160]]','[[["Undo","undo 28"]]]','{"kind":"batch","batch":{"code":"M6","name":"meatballs","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":500.0,"net_grams":400.0,"yield":0.8,"expected":null,"pieces":{"count":14.0,"word":null},"ingredients":[{"text":"500 g raw minced beef","food":"NDB 23572","batch":null,"packet":null,"grams":500.0,"estimated":false}],"totals":{"energy_kcal":1270.0,"protein_g":85.85,"fat_g":100.0,"saturated_fat_g":37.905,"carbohydrate_g":0.0,"sugars_g":0.0,"fibre_g":0.0,"sodium_mg":330.0,"potassium_mg":1350.0,"calcium_mg":90.0,"iron_mg":9.7,"cholesterol_mg":355.0,"water_g":209.35000000000002,"alcohol_g":0.0},"per_100g":{"energy_kcal":317.5,"protein_g":21.4625,"fat_g":25.0,"saturated_fat_g":9.47625,"carbohydrate_g":0.0,"sugars_g":0.0,"fibre_g":0.0,"sodium_mg":82.5,"potassium_mg":337.5,"calcium_mg":22.5,"iron_mg":2.425,"cholesterol_mg":88.75,"water_g":52.337500000000006,"alcohol_g":0.0},"allergens":[],"allergens_unknown":[],"avoided":[],"lots":[{"place":"fridge","vessel":null,"grams":400.0,"pieces":{"count":14.0,"word":null},"use_by":"2026-10-16"}]}}',1,'2026-10-14T17:36:00.000Z','o27','2026-10-14T17:36:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (28,29,'bridge','c1',NULL,'reply',NULL,'m37','Into the fridge: 500 g tofu T7
Taken as: Tofu, raw, firm, prepared with
calcium sulfate
Use by 3 Dec (as told)','[[23,27]]','[[["Undo","undo 29"]]]','{"kind":"receive","origin":"bought","lots":[{"batch":"T7","name":"tofu","place":"fridge","vessel":null,"grams":500.0,"pieces":null,"use_by":"2026-12-03"}]}',1,'2026-10-14T17:37:00.000Z','o28','2026-10-14T17:37:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (29,30,'bridge','c1',NULL,'reply',NULL,'m38','In the freezer: 700 g chilli C8
Its nutrients are unknown.
Its age is unknown, so it has no date.
To set one:
C8 use by 3 Dec','[[22,28]]','[[["Undo","undo 30"]]]','{"kind":"receive","origin":"before","lots":[{"batch":"C8","name":"chilli","place":"freezer","vessel":null,"grams":700.0,"pieces":null,"use_by":null}]}',1,'2026-10-14T17:38:00.000Z','o29','2026-10-14T17:38:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (3,3,'bridge','c1',NULL,'reply',NULL,'m5','Taken back: "140 dal" (Robin)
Left: lentil dal 1840 g','[]','[[["Put it back","redo 3"]]]','{"kind":"undo","text":"140 dal","member":"Robin","put_back":false,"left":[{"name":"lentil dal","grams":1840.0}],"settings":null}',0,'2026-10-14T17:05:00.000Z','o3','2026-10-14T17:05:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (30,31,'bridge','c1',NULL,'reply',NULL,'m39','lentil dal keeps 3 days in the fridge,
as you set.
The chart says 2 days (UK FSA).
1340 g lentil dal D1, freezer
  Use by 14 Jan 2027 (3 months frozen,
  at its best; HHS)','[[0,10],[90,100]]','[[["Undo","undo 31"]]]','{"kind":"keeps","name":"lentil dal","kept":[{"storage":"fridge","keeps":{"days":3,"months":null,"source":"as you set"},"chart":{"days":2,"months":null,"source":"UK FSA"}}],"lots":[{"batch":"D1","name":"lentil dal","place":"freezer","vessel":"blue pot","grams":1340.0,"pieces":null,"use_by":"2027-01-14"}]}',0,'2026-10-14T17:39:00.000Z','o30','2026-10-14T17:39:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (31,32,'bridge','c1',NULL,'reply',NULL,'m40','cellar: like a fridge from now on. Dates
follow.','[[0,6]]','[[["Undo","undo 32"]]]','{"kind":"place","name":"cellar","storage":"fridge"}',0,'2026-10-14T17:40:00.000Z','o31','2026-10-14T17:40:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (32,33,'bridge','c1',NULL,'reply',NULL,'m43','Noted: Ana took some rice, unweighed.
The next count says how much.

Asked and not booked yet: "150 sauce"','[[21,25]]','[[["Undo","undo 33"]]]','{"kind":"taken","dishes":["rice"],"amount":"some","member":"Ana","also":[{"kind":"not_booked","words":["150 sauce"]}]}',0,'2026-10-14T17:43:00.000Z','o32','2026-10-14T17:43:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (33,34,'bridge','c1',NULL,'reply',NULL,'m44','Thrown away: 50 g chicken C4, 615 g left
Reason: "slimy"','[[18,25]]','[[["Undo","undo 34"]]]','{"kind":"waste","lines":[{"name":"chicken","batch":"C4","grams":50.0,"left_grams":615.0}],"reason":"slimy"}',1,'2026-10-14T17:44:00.000Z','o33','2026-10-14T17:44:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (34,35,'bridge','c1',NULL,'reply',NULL,'m45','lentil dal D1 cost 6.40, 3.48 a kilo as
it is','[[0,10]]','[[["Undo","undo 35"]]]','{"kind":"price","name":"lentil dal","batch":"D1","hundredths":640,"currency":""}',1,'2026-10-14T17:45:00.000Z','o34','2026-10-14T17:45:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (35,36,'bridge','c1',NULL,'picture',NULL,'m48','lentil dal D1, 1340 g
62 x 40 mm, print at full size','[]','[]','{"kind":"label","labels":[{"batch":"D1","name":"lentil dal","place":"freezer","grams":1340.0,"made":"2026-10-14","frozen":"2026-10-14","use_by":"2027-01-14","per_100g":{"energy_kcal":112.74173913043477,"protein_g":6.563043478260869,"fat_g":2.0739130434782607,"saturated_fat_g":0.2577608695652174,"carbohydrate_g":17.705108695652175,"sugars_g":0.25347826086956526,"fibre_g":3.0364130434782606,"sodium_mg":212.7826086956522,"potassium_mg":190.29347826086956,"calcium_mg":14.54891304347826,"iron_mg":2.0225000000000004,"cholesterol_mg":0.0,"water_g":72.27940217391304,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]},"allergens":[],"allergens_unknown":[],"avoided":[]}],"width_mm":61.97599999999999,"height_mm":39.962666666666664,"page":null,"dpi":300}',0,'2026-10-14T17:48:00.000Z','o35','2026-10-14T17:48:00.000Z',NULL,0,NULL,'{"paper":{"width":732,"height":472},"page":null,"labels":[{"name":"lentil dal","use_by":"Use by 14 Jan 2027","date":"Frozen 14 Oct 2026","with_made":null,"net":"1340 g","energy":"113 kcal, protein 6.6 g per 100 g","allergens":"Allergens: none recorded","avoided":null,"not_known":null,"code":"D1"}],"household":1}');
insert into "outbox" values (36,37,'bridge','c1',NULL,'reply',NULL,'m51','glass jar holds tomato sauce.

Asked and not booked yet: "300 g dal"','[[0,9]]','[]','{"kind":"container","name":"glass jar","tare_grams":null,"holds":"tomato sauce","also":[{"kind":"not_booked","words":["300 g dal"]}]}',0,'2026-10-14T17:51:00.000Z','o36','2026-10-14T17:51:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (37,38,'bridge','c1',NULL,'reply',NULL,'m54','Timer 1: dal, 35 min, at 19:29.','[[9,12]]','[[["Undo","undo 38"]]]','{"kind":"timer","event":"set","timers":[{"about":"timer","id":1,"words":"dal","due_at":"2026-10-14T18:29:00Z"}]}',1,'2026-10-14T17:54:00.000Z','o37','2026-10-14T17:54:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (38,39,'bridge','c1',NULL,'reply',NULL,'m55','Reminder 2: soak the beans, Sun 18 Oct
at 10:00.','[[12,26]]','[[["Undo","undo 39"]]]','{"kind":"timer","event":"set","timers":[{"about":"once","id":2,"words":"soak the beans","due_at":"2026-10-18T09:00:00Z"}]}',1,'2026-10-14T17:55:00.000Z','o38','2026-10-14T17:55:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (39,40,'bridge','c1',NULL,'reply',NULL,'m56','Cancelled:
Timer 1: dal, 35 min, at 19:29.','[[20,23]]','[[["Undo","undo 40"]]]','{"kind":"timer","event":"cancelled","timers":[{"about":"timer","id":1,"words":"dal","due_at":"2026-10-14T18:29:00Z"}]}',0,'2026-10-14T17:56:00.000Z','o39','2026-10-14T17:56:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (4,4,'bridge','c1',NULL,'reply',NULL,'m6','rice R2, made Wed 14 Oct
1150 g net, yield 2.88
Per 100 g: 130 kcal, protein 2.6 g,
fat 0.4 g, carbs 28 g, fibre 0.6 g,
sodium 1 mg
Whole: 1496 kcal, protein 30 g,
fat 4.1 g, carbs 324 g, fibre 7.2 g,
sodium 8 mg

1. 400 g Rice, white, long-grain,
  parboiled, dry; other kinds: NDB 20036

In the fridge, use by 15 Oct 2026 (1 day
from making; UK FSA)

Rice: cool, chill within 1 h (UK FSA).','[[0,4],[59,67],[139,148]]','[[["Undo","undo 4"]]]','{"kind":"batch","batch":{"code":"R2","name":"rice","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":400.0,"net_grams":1150.0,"yield":2.875,"expected":null,"pieces":null,"ingredients":[{"text":"400 g dry white rice","food":"NDB 20046","batch":null,"packet":null,"grams":400.0,"estimated":false}],"totals":{"energy_kcal":1496.0,"protein_g":30.04,"fat_g":4.12,"saturated_fat_g":1.176,"carbohydrate_g":323.56,"sugars_g":1.32,"fibre_g":7.2,"sodium_mg":8.0,"potassium_mg":696.0,"calcium_mg":284.0,"iron_mg":13.32,"cholesterol_mg":0.0,"water_g":789.44,"alcohol_g":0.0},"per_100g":{"energy_kcal":130.08695652173913,"protein_g":2.612173913043478,"fat_g":0.3582608695652174,"saturated_fat_g":0.10226086956521738,"carbohydrate_g":28.135652173913044,"sugars_g":0.11478260869565218,"fibre_g":0.6260869565217392,"sodium_mg":0.6956521739130435,"potassium_mg":60.52173913043478,"calcium_mg":24.695652173913043,"iron_mg":1.1582608695652175,"cholesterol_mg":0.0,"water_g":68.64695652173913,"alcohol_g":0.0},"allergens":[],"allergens_unknown":[],"avoided":[],"lots":[{"place":"fridge","vessel":null,"grams":1150.0,"pieces":null,"use_by":"2026-10-15"}]},"cautions":[{"code":"cool_rice","about":"rice"}]}',1,'2026-10-14T17:06:00.000Z','o4','2026-10-14T17:06:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (40,41,'bridge','c1',NULL,'reply',NULL,'m57','Away: Ana, Fri 16 Oct.','[]','[[["Undo","undo 41"]]]','{"kind":"away","member":"Ana","from":"2026-10-16","until":"2026-10-16","freeze":[],"finish":[]}',0,'2026-10-14T17:57:00.000Z','o40','2026-10-14T17:57:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (41,42,'bridge','c1',NULL,'reply',NULL,'m60','parsnips: 14.8 % trimmed off, 980 g of
1150 g left.
Lists count with it; the table says
15 %.','[[0,8]]','[[["Undo","undo 42"]]]','{"kind":"good","name":"parsnips","food":"NDB 11298","bought_grams":1150.0,"trimmed_grams":980.0,"refuse":0.14782608695652177,"refuse_by_table":0.15}',0,'2026-10-14T18:00:00.000Z','o41','2026-10-14T18:00:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (42,43,'bridge','c1',NULL,'reply',NULL,'m61','red lentils: by the bag, 500 g each.','[[0,11]]','[[["Undo","undo 43"]]]','{"kind":"good","name":"red lentils","food":"NDB 16144","pack":{"word":"bag","grams":500.0}}',0,'2026-10-14T18:01:00.000Z','o42','2026-10-14T18:01:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (43,44,'bridge','c1',NULL,'reply',NULL,'m62','red lentils: 2.40 a kilo.','[[0,11]]','[[["Undo","undo 44"]]]','{"kind":"good","name":"red lentils","food":"NDB 16144","price":{"amount":2.4,"currency":"","grams":1000.0}}',0,'2026-10-14T18:02:00.000Z','o43','2026-10-14T18:02:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (44,45,'bridge','c1',NULL,'reply',NULL,'m63','lentil dal: 800 g of it are to be there
on the next prep day.','[[0,10]]','[[["Undo","undo 45"]]]','{"kind":"par","dish":"lentil dal","grams":800.0}',0,'2026-10-14T18:03:00.000Z','o44','2026-10-14T18:03:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (45,46,'bridge','c1',NULL,'reply',NULL,'m64','A pot holds 4000 g, cooked.','[]','[[["Undo","undo 46"]]]','{"kind":"pot","dish":null,"grams":4000.0}',0,'2026-10-14T18:04:00.000Z','o45','2026-10-14T18:04:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (46,47,'bridge','c1',NULL,'reply',NULL,'m65','At most 4 burners.','[]','[[["Undo","undo 47"]]]','{"kind":"limit","what":"burners","count":4}',0,'2026-10-14T18:05:00.000Z','o46','2026-10-14T18:05:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (47,48,'bridge','c1',NULL,'reply',NULL,'m66','rice: 1080 g, on Fri 16 Oct (for 6,
  180 g each).','[[0,4]]','[[["Undo","undo 48"]]]','{"kind":"wishes","event":"wished","wishes":[{"dish":"rice","from":"2026-10-16","until":"2026-10-16","grams_a_day":1080.0,"meal":null,"people":6}],"all_away":[]}',0,'2026-10-14T18:06:00.000Z','o47','2026-10-14T18:06:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (48,49,'bridge','c1',NULL,'reply',NULL,'m67','lentil dal: 3 steps, 10 h 35 min in all.
1. soak, 8 h, by itself
2. simmer, 35 min, on a burner
3. freeze flat, 2 h, by itself','[[0,10]]','[[["Undo","undo 49"]]]','{"kind":"steps","dish":"lentil dal","steps":[{"words":"soak","minutes":480,"uses":null},{"words":"simmer","minutes":35,"uses":"burner"},{"words":"freeze flat","minutes":120,"uses":null}]}',0,'2026-10-14T18:07:00.000Z','o48','2026-10-14T18:07:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (49,50,'bridge','c1',NULL,'reply',NULL,'m70','lentil dal D9, made Wed 14 Oct
~1820 g by estimate, yield ~2.84
By your last pot of it
Not weighed yet. To weigh it in:
D9 weighed 1820
Per 100 g: ~137 kcal, protein ~7.9 g,
fat ~2.9 g, carbs ~21 g, fibre ~3.6 g,
sodium ~2 mg
Whole: 2502 kcal, protein 143 g,
fat 53 g, carbs 379 g, fibre 65 g,
sodium 42 mg

1. 600 g Lentils, pink or red, raw;
  cooked is NDB 16070
2. 40 g Oil, sunflower, linoleic; other
  kinds: NDB 04584

Kept in the fridge: use by 17 Oct 2026
(3 days, as you set)','[[0,10],[147,156],[233,242]]','[[["Undo","undo 50"]]]','{"kind":"batch","batch":{"code":"D9","name":"lentil dal","origin":"cooked","state":"estimated","made":"2026-10-14","raw_grams":640.0,"net_grams":1819.53,"yield":2.843015625,"expected":{"least_grams":1819.53,"most_grams":1819.53,"pots":1},"pieces":null,"ingredients":[{"text":"600 g red lentils","food":"NDB 16144","batch":null,"packet":null,"grams":600.0,"estimated":false},{"text":"40 g sunflower oil","food":"NDB 04506","batch":null,"packet":null,"grams":40.0,"estimated":false}],"totals":{"energy_kcal":2501.6,"protein_g":143.46,"fat_g":53.019999999999996,"saturated_fat_g":6.394,"carbohydrate_g":378.6,"sugars_g":0.0,"fibre_g":64.8,"sodium_mg":42.0,"potassium_mg":4008.0,"calcium_mg":288.0,"iron_mg":44.34,"cholesterol_mg":0.0,"water_g":1226.45,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]},"per_100g":{"energy_kcal":137.4860540908916,"protein_g":7.884453677598062,"fat_g":2.91393931399867,"saturated_fat_g":0.35140942990772345,"carbohydrate_g":20.807571185965607,"sugars_g":0.0,"fibre_g":3.5613592521145567,"sodium_mg":2.308288404148324,"potassium_mg":220.27666485301148,"calcium_mg":15.828263342731365,"iron_mg":2.4368930438080167,"cholesterol_mg":0.0,"water_g":67.40476936351696,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]},"allergens":[],"allergens_unknown":[],"avoided":[],"lots":[{"place":null,"vessel":null,"grams":null,"pieces":null,"use_by":"2026-10-17"}]}}',1,'2026-10-14T18:10:00.000Z','o49','2026-10-14T18:10:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (5,5,'bridge','c1',NULL,'reply',NULL,'m7','Ana, Wed 14 Oct
140 g lentil dal: 158 kcal,
  protein 9.2 g
180 g rice: 234 kcal, protein 4.7 g
~9 g Oil, olive, salad or cooking:
  ~80 kcal, protein 0 g
Total: ~472 kcal, protein ~14 g,
fat ~13 g, carbs ~75 g, fibre ~5.4 g,
sodium ~299 mg
Left: lentil dal 1700 g, rice 970 g','[[162,171]]','[[["Undo","undo 5"]]]','{"kind":"portion","plates":[{"member":"Ana","day":"2026-10-14","meal":null,"lines":[{"name":"lentil dal","batch":"D1","food":null,"grams":140.0,"left_grams":1700.0,"left_pieces":null,"nutrients":{"energy_kcal":157.8384347826087,"protein_g":9.188260869565218,"fat_g":2.9034782608695653,"saturated_fat_g":0.36086521739130434,"carbohydrate_g":24.787152173913046,"sugars_g":0.3548695652173914,"fibre_g":4.250978260869565,"sodium_mg":297.8956521739131,"potassium_mg":266.4108695652174,"calcium_mg":20.368478260869566,"iron_mg":2.8315000000000006,"cholesterol_mg":0.0,"water_g":101.19116304347827,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]},"lots":[{"place":"freezer","grams":140.0}]},{"name":"rice","batch":"R2","food":null,"grams":180.0,"left_grams":970.0,"left_pieces":null,"nutrients":{"energy_kcal":234.15652173913045,"protein_g":4.701913043478261,"fat_g":0.6448695652173914,"saturated_fat_g":0.18406956521739132,"carbohydrate_g":50.64417391304348,"sugars_g":0.20660869565217393,"fibre_g":1.1269565217391306,"sodium_mg":1.2521739130434784,"potassium_mg":108.93913043478261,"calcium_mg":44.45217391304348,"iron_mg":2.0848695652173914,"cholesterol_mg":0.0,"water_g":123.56452173913046,"alcohol_g":0.0},"lots":[{"place":"fridge","grams":180.0}]},{"name":"Oil, olive, salad or cooking","batch":null,"food":"NDB 04053","grams":9.0,"left_grams":null,"left_pieces":null,"nutrients":{"energy_kcal":79.56,"protein_g":0.0,"fat_g":9.0,"saturated_fat_g":1.2427199999999998,"carbohydrate_g":0.0,"sugars_g":0.0,"fibre_g":0.0,"sodium_mg":0.18,"potassium_mg":0.09,"calcium_mg":0.09,"iron_mg":0.05040000000000001,"cholesterol_mg":0.0,"water_g":0.0,"alcohol_g":0.0},"lots":[]}],"totals":{"energy_kcal":471.55495652173914,"protein_g":13.89017391304348,"fat_g":12.548347826086957,"saturated_fat_g":1.7876547826086955,"carbohydrate_g":75.43132608695653,"sugars_g":0.5614782608695653,"fibre_g":5.377934782608696,"sodium_mg":299.3278260869566,"potassium_mg":375.44,"calcium_mg":64.91065217391305,"iron_mg":4.966769565217392,"cholesterol_mg":0.0,"water_g":224.75568478260874,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]}}],"avoided":[]}',1,'2026-10-14T17:07:00.000Z','o5','2026-10-14T17:07:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (50,51,'bridge','c1',NULL,'reply',NULL,'m73','On the list: onions.
1 thing to buy.','[[13,19]]','[[["Undo","undo 51"]]]','{"kind":"shopping","list":78,"event":"put","things":["onions"],"from":null,"until":null,"lines":[{"id":79,"name":"onions","food":"NDB 11282","need_grams":2000.0,"buy_grams":2000.0,"packs":null,"said":[],"cost":null,"bought_by":null}],"total":[]}',0,'2026-10-14T18:13:00.000Z','o50','2026-10-14T18:13:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (51,52,'bridge','c1',NULL,'reply',NULL,'m74','Got onions.
That is all of it.','[[4,10]]','[[["Undo","undo 52"]]]','{"kind":"shopping","list":null,"event":"got","things":["onions"],"from":null,"until":null,"lines":[],"total":[]}',0,'2026-10-14T18:14:00.000Z','o51','2026-10-14T18:14:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (52,53,'bridge','c1',NULL,'reply',NULL,'m77','Targets a day: 2200 kcal,
protein 120 to 140 g,
fibre at least 30 g.','[]','[[["Undo","undo 53"]]]','{"kind":"targets","event":"set","targets":[{"of":"energy_kcal","least":2200.0,"most":2200.0},{"of":"protein_g","least":120.0,"most":140.0},{"of":"fibre_g","least":30.0,"most":null}],"low":false}',0,'2026-10-14T18:17:00.000Z','o52','2026-10-14T18:17:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (53,54,'bridge','c1',NULL,'reply',NULL,'m78','No numbers for you: grams and what is
left, no more. Back with:
numbers on','[]','[[["Undo","undo 54"]]]','{"kind":"numbers","told":false}',0,'2026-10-14T18:18:00.000Z','o53','2026-10-14T18:18:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (54,55,'bridge','c1',NULL,'reply',NULL,'m79','Your totals are for our private chat. In
a group you see grams and what is left.','[]','[[["Undo","undo 55"]]]','{"kind":"totals","private":true}',0,'2026-10-14T18:19:00.000Z','o54','2026-10-14T18:19:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (55,56,'bridge','c1',NULL,'reply',NULL,'m82','oats: 500 g are to be at home. What is
less goes on the shopping list.','[[0,4]]','[[["Undo","undo 56"]]]','{"kind":"good","name":"oats","food":"NDB 08120","at_home":{"grams":500.0}}',0,'2026-10-14T18:22:00.000Z','o55','2026-10-14T18:22:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (56,57,'bridge','c1',NULL,'reply',NULL,'m85','Mia is at the table.
What they have is written down by
others:
140 dal for Mia','[]','[[["Undo","undo 57"]]]','{"kind":"people","event":"added","about":"Mia","members":[{"member":"Robin","nicknames":[],"keeper":true,"chats":true},{"member":"Ana","nicknames":[],"keeper":false,"chats":true},{"member":"Mia","nicknames":[],"keeper":false,"chats":false}]}',0,'2026-10-14T18:25:00.000Z','o56','2026-10-14T18:25:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (57,58,'bridge','c1',NULL,'reply',NULL,'m86','You are Annie here as well.','[]','[[["Undo","undo 58"]]]','{"kind":"people","event":"nicknamed","about":"Ana","members":[{"member":"Robin","nicknames":[],"keeper":true,"chats":true},{"member":"Ana","nicknames":["Annie"],"keeper":false,"chats":true},{"member":"Mia","nicknames":[],"keeper":false,"chats":false}]}',0,'2026-10-14T18:26:00.000Z','o57','2026-10-14T18:26:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (58,59,'bridge','c1',NULL,'reply',NULL,'m87','Noted: you cannot have peanuts.
It is said here on dishes, plates and
labels that have it.','[]','[[["Undo","undo 59"]]]','{"kind":"avoids","event":"told","people":[{"member":"Ana","avoids":[{"what":"peanuts","cannot":true}]}]}',0,'2026-10-14T18:27:00.000Z','o58','2026-10-14T18:27:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (59,60,'bridge','c1',NULL,'reply',NULL,'m88','Noted: you leave out pork.
It is said here on dishes, plates and
labels that have it.','[]','[[["Undo","undo 60"]]]','{"kind":"avoids","event":"told","people":[{"member":"Robin","avoids":[{"what":"pork","cannot":false}]}]}',0,'2026-10-14T18:28:00.000Z','o59','2026-10-14T18:28:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (6,6,'bridge','c1',NULL,'reply',NULL,'m8','tomato sauce S3, made Wed 14 Oct
~824 g by estimate, yield ~1
Not weighed yet. To weigh it in:
S3 weighed 820
Per 100 g: ~44 kcal, protein ~0.8 g,
fat ~3.5 g, carbs ~3.4 g, fibre ~1.8 g,
sodium ~112 mg
Whole: 367 kcal, protein 6.3 g,
fat 29 g, carbs 28 g, fibre 15 g,
sodium 921 mg

1. 800 g Tomatoes, red, ripe, canned,
  packed in tomato juice; other kinds:
  NDB 11885, NDB 11533
2. ~27 g Oil, olive, salad or cooking
~ is an estimate from a measure

Kept in the fridge: use by 16 Oct 2026
(2 days from making; UK FSA)','[[0,12],[121,129],[209,217]]','[[["Undo","undo 6"]]]','{"kind":"batch","batch":{"code":"S3","name":"tomato sauce","origin":"cooked","state":"estimated","made":"2026-10-14","raw_grams":827.0,"net_grams":824.3,"yield":0.9967351874244256,"expected":null,"pieces":null,"ingredients":[{"text":"800 g canned tomatoes","food":"NDB 11531","batch":null,"packet":null,"grams":800.0,"estimated":false},{"text":"2 tbsp olive oil","food":"NDB 04053","batch":null,"packet":null,"grams":27.0,"estimated":true}],"totals":{"energy_kcal":366.68,"protein_g":6.32,"fat_g":29.0,"saturated_fat_g":4.00016,"carbohydrate_g":27.76,"sugars_g":20.4,"fibre_g":15.2,"sodium_mg":920.54,"potassium_mg":1528.27,"calcium_mg":264.27,"iron_mg":4.7112,"cholesterol_mg":0.0,"water_g":755.3,"alcohol_g":0.0},"per_100g":{"energy_kcal":44.483804440131024,"protein_g":0.7667111488535728,"fat_g":3.5181366007521535,"saturated_fat_g":0.4852796312022322,"carbohydrate_g":3.3677059323061993,"sugars_g":2.474827126046342,"fibre_g":1.8439888390149217,"sodium_mg":111.67536091228921,"potassium_mg":185.40215940798254,"calcium_mg":32.059929637267985,"iron_mg":0.5715394880504671,"cholesterol_mg":0.0,"water_g":91.62926119131384,"alcohol_g":0.0},"allergens":[],"allergens_unknown":[],"avoided":[],"lots":[{"place":null,"vessel":null,"grams":null,"pieces":null,"use_by":"2026-10-16"}]}}',1,'2026-10-14T17:08:00.000Z','o6','2026-10-14T17:08:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (60,61,'bridge','c1',NULL,'reply',NULL,'m91','Packet kept: oat bars
Per 100 g: 430 kcal, protein 8 g,
fat 15 g, carbs 62 g, fibre unknown,
sodium unknown','[[13,21],[33,41]]','[[["Undo","undo 61"]]]','{"kind":"packet","name":"oat bars","per_100g":{"energy_kcal":430.0,"protein_g":8.0,"fat_g":15.0,"saturated_fat_g":null,"carbohydrate_g":62.0,"sugars_g":null,"fibre_g":null,"sodium_mg":null,"potassium_mg":null,"calcium_mg":null,"iron_mg":null,"cholesterol_mg":null,"water_g":null,"alcohol_g":null},"serving_grams":null,"doubt":null}',0,'2026-10-14T18:31:00.000Z','o60','2026-10-14T18:31:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (61,62,'bridge','c1',NULL,'reply',NULL,'m92','In oat bars: hazelnuts, milk.
Allergens: milk, oats (gluten),
hazelnuts (nuts)','[[30,61],[62,78]]','[[["Undo","undo 62"]]]','{"kind":"contents","name":"oat bars","things":["hazelnuts","milk"],"whole":false,"allergens":["milk","oats (gluten)","hazelnuts (nuts)"]}',0,'2026-10-14T18:32:00.000Z','o61','2026-10-14T18:32:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (7,7,'bridge','c1',NULL,'reply',NULL,'m9','tomato sauce S3, 1 line added
~829 g by estimate, yield ~1
Not weighed yet. To weigh it in:
S3 weighed 830
Per 100 g: ~44 kcal, protein ~0.8 g,
fat ~3.5 g, carbs ~3.3 g, fibre ~1.8 g,
sodium ~345 mg
Whole: 367 kcal, protein 6.3 g,
fat 29 g, carbs 28 g, fibre 15 g,
sodium 2858 mg

3. 5 g Salt, table

Kept in the fridge: use by 16 Oct 2026
(2 days from making; UK FSA)','[[0,12],[118,126],[206,214]]','[[["Undo","undo 7"]]]','{"kind":"batch","batch":{"code":"S3","name":"tomato sauce","origin":"cooked","state":"estimated","made":"2026-10-14","raw_grams":832.0,"net_grams":829.3,"yield":0.9967548076923076,"expected":null,"pieces":null,"ingredients":[{"text":"800 g canned tomatoes","food":"NDB 11531","batch":null,"packet":null,"grams":800.0,"estimated":false},{"text":"2 tbsp olive oil","food":"NDB 04053","batch":null,"packet":null,"grams":27.0,"estimated":true},{"text":"5 g salt","food":"NDB 02047","batch":null,"packet":null,"grams":5.0,"estimated":false}],"totals":{"energy_kcal":366.68,"protein_g":6.32,"fat_g":29.0,"saturated_fat_g":4.00016,"carbohydrate_g":27.76,"sugars_g":20.4,"fibre_g":15.2,"sodium_mg":2858.44,"potassium_mg":1528.67,"calcium_mg":265.46999999999997,"iron_mg":4.7277,"cholesterol_mg":0.0,"water_g":755.31,"alcohol_g":0.0},"per_100g":{"energy_kcal":44.21560352104184,"protein_g":0.762088508380562,"fat_g":3.496925117569034,"saturated_fat_g":0.48235379235499826,"carbohydrate_g":3.3474014228867723,"sugars_g":2.4599059447726996,"fibre_g":1.8328710961051489,"sodium_mg":344.68105631255276,"potassium_mg":184.33256963704332,"calcium_mg":32.01133486072591,"iron_mg":0.5700832027010732,"cholesterol_mg":0.0,"water_g":91.07801760520921,"alcohol_g":0.0},"allergens":[],"allergens_unknown":[],"avoided":[],"lots":[{"place":null,"vessel":null,"grams":null,"pieces":null,"use_by":"2026-10-16"}]}}',1,'2026-10-14T17:09:00.000Z','o7','2026-10-14T17:09:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (8,8,'bridge','c1',NULL,'reply',NULL,'m10','tomato sauce S3, 1 line added
~979 g by estimate, yield ~1
Not weighed yet. To weigh it in:
S3 weighed 980
Per 100 g, at least: ~37 kcal,
protein ~0.6 g, fat ~3 g, carbs ~2.8 g,
fibre ~1.6 g, sodium ~292 mg
Whole, at least: 367 kcal,
protein 6.3 g, fat 29 g, carbs 28 g,
fibre 15 g, sodium 2858 mg

4. 150 sauce: no such food known,
  nutrients unknown

Kept in the fridge: use by 16 Oct 2026
(2 days from making; UK FSA)

The rest of the batch stands.

Which food is "150 sauce"?
1. Sauce, barbecue
2. Sauce, worcestershire
3. Sauce, horseradish
4. Sauce, teriyaki, ready-to-serve
5. Sauce, plum, ready-to-serve
Answer 1 to 5, or cancel.','[[0,12],[128,136],[224,232]]','[[["Sauce, barbecue","choose 1 0"]],[["Sauce, worcestershire","choose 1 1"]],[["Sauce, horseradish","choose 1 2"]],[["Sauce, teriyaki, ready-to-serve","choose 1 3"]],[["Sauce, plum, ready-to-serve","choose 1 4"]],[["Undo","undo 8"]]]','{"kind":"batch","batch":{"code":"S3","name":"tomato sauce","origin":"cooked","state":"estimated","made":"2026-10-14","raw_grams":982.0,"net_grams":979.3,"yield":0.9972505091649694,"expected":null,"pieces":null,"ingredients":[{"text":"800 g canned tomatoes","food":"NDB 11531","batch":null,"packet":null,"grams":800.0,"estimated":false},{"text":"2 tbsp olive oil","food":"NDB 04053","batch":null,"packet":null,"grams":27.0,"estimated":true},{"text":"5 g salt","food":"NDB 02047","batch":null,"packet":null,"grams":5.0,"estimated":false},{"text":"150 sauce","food":null,"batch":null,"packet":null,"grams":150.0,"estimated":false}],"totals":{"energy_kcal":366.68,"protein_g":6.32,"fat_g":29.0,"saturated_fat_g":4.00016,"carbohydrate_g":27.76,"sugars_g":20.4,"fibre_g":15.2,"sodium_mg":2858.44,"potassium_mg":1528.67,"calcium_mg":265.46999999999997,"iron_mg":4.7277,"cholesterol_mg":0.0,"water_g":755.31,"alcohol_g":0.0,"at_least":["energy_kcal","protein_g","fat_g","saturated_fat_g","carbohydrate_g","sugars_g","fibre_g","sodium_mg","potassium_mg","calcium_mg","iron_mg","cholesterol_mg","water_g","alcohol_g"]},"per_100g":{"energy_kcal":37.44307158174206,"protein_g":0.6453589298478506,"fat_g":2.9612988869600736,"saturated_fat_g":0.40847135709180027,"carbohydrate_g":2.83467783110385,"sugars_g":2.0831205963443273,"fibre_g":1.5521290717859695,"sodium_mg":291.8860410497294,"potassium_mg":156.09823343204332,"calcium_mg":27.1081384662514,"iron_mg":0.4827631982027979,"cholesterol_mg":0.0,"water_g":77.12754007964872,"alcohol_g":0.0,"at_least":["energy_kcal","protein_g","fat_g","saturated_fat_g","carbohydrate_g","sugars_g","fibre_g","sodium_mg","potassium_mg","calcium_mg","iron_mg","cholesterol_mg","water_g","alcohol_g"]},"allergens":[],"allergens_unknown":["sauce"],"avoided":[],"lots":[{"place":null,"vessel":null,"grams":null,"pieces":null,"use_by":"2026-10-16"}]},"pending":[{"line":4,"code":"unknown_food","candidates":["NDB 06150","NDB 06971","NDB 27066","NDB 06112","NDB 06151"]}],"also":[{"kind":"ask","about":"which_food","options":["Sauce, barbecue","Sauce, worcestershire","Sauce, horseradish","Sauce, teriyaki, ready-to-serve","Sauce, plum, ready-to-serve"],"problem":"unknown_food"}]}',0,'2026-10-14T17:10:00.000Z','o8','2026-10-14T17:10:00.000Z',NULL,0,NULL,NULL);
insert into "outbox" values (9,9,'bridge','c1',NULL,'reply',NULL,'m11','tomato sauce S3, weighed in
760 g net, yield 0.77
Per 100 g, at least: 48 kcal,
protein 0.8 g, fat 3.8 g, carbs 3.7 g,
fibre 2 g, sodium 376 mg
Whole, at least: 367 kcal,
protein 6.3 g, fat 29 g, carbs 28 g,
fibre 15 g, sodium 2858 mg

Kept in the fridge: use by 16 Oct 2026
(2 days from making; UK FSA)

Cool and chill it within 2 h (FSIS).','[[0,12],[71,78],[161,169]]','[[["Undo","undo 9"]]]','{"kind":"batch","batch":{"code":"S3","name":"tomato sauce","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":982.0,"net_grams":760.0,"yield":0.7739307535641547,"expected":null,"pieces":null,"ingredients":[{"text":"800 g canned tomatoes","food":"NDB 11531","batch":null,"packet":null,"grams":800.0,"estimated":false},{"text":"2 tbsp olive oil","food":"NDB 04053","batch":null,"packet":null,"grams":27.0,"estimated":true},{"text":"5 g salt","food":"NDB 02047","batch":null,"packet":null,"grams":5.0,"estimated":false},{"text":"150 sauce","food":null,"batch":null,"packet":null,"grams":150.0,"estimated":false}],"totals":{"energy_kcal":366.68,"protein_g":6.32,"fat_g":29.0,"saturated_fat_g":4.00016,"carbohydrate_g":27.76,"sugars_g":20.4,"fibre_g":15.2,"sodium_mg":2858.44,"potassium_mg":1528.67,"calcium_mg":265.46999999999997,"iron_mg":4.7277,"cholesterol_mg":0.0,"water_g":536.01,"alcohol_g":0.0,"at_least":["energy_kcal","protein_g","fat_g","saturated_fat_g","carbohydrate_g","sugars_g","fibre_g","sodium_mg","potassium_mg","calcium_mg","iron_mg","cholesterol_mg","water_g","alcohol_g"]},"per_100g":{"energy_kcal":48.24736842105263,"protein_g":0.8315789473684211,"fat_g":3.81578947368421,"saturated_fat_g":0.5263368421052631,"carbohydrate_g":3.6526315789473682,"sugars_g":2.684210526315789,"fibre_g":1.9999999999999998,"sodium_mg":376.11052631578946,"potassium_mg":201.1407894736842,"calcium_mg":34.93026315789473,"iron_mg":0.6220657894736841,"cholesterol_mg":0.0,"water_g":70.52763157894736,"alcohol_g":0.0,"at_least":["energy_kcal","protein_g","fat_g","saturated_fat_g","carbohydrate_g","sugars_g","fibre_g","sodium_mg","potassium_mg","calcium_mg","iron_mg","cholesterol_mg","water_g","alcohol_g"]},"allergens":[],"allergens_unknown":["sauce"],"avoided":[],"lots":[{"place":null,"vessel":null,"grams":760.0,"pieces":null,"use_by":"2026-10-16"}]},"cautions":[{"code":"cool","about":"tomato sauce"}]}',1,'2026-10-14T17:11:00.000Z','o9','2026-10-14T17:11:00.000Z',NULL,0,NULL,NULL);
insert into "account" values (1,1,'bought',-5018200);
insert into "account" values (1,100,'lot',1340000);
insert into "account" values (1,101,'plate',0);
insert into "account" values (1,102,'lot',60000);
insert into "account" values (1,103,'plate',329000);
insert into "account" values (1,104,'lot',760000);
insert into "account" values (1,105,'lot',615000);
insert into "account" values (1,106,'lot',480000);
insert into "account" values (1,107,'plate',360000);
insert into "account" values (1,108,'lot',10000);
insert into "account" values (1,109,'lot',30000);
insert into "account" values (1,110,'lot',400000);
insert into "account" values (1,111,'lot',500000);
insert into "account" values (1,112,'lot',700000);
insert into "account" values (1,113,'lot',1819530);
insert into "account" values (1,2,'water',-2440330);
insert into "account" values (1,3,'poured',35000);
insert into "account" values (1,4,'waste',210000);
insert into "account" values (1,5,'difference',510000);
insert into "account" values (1,6,'origin',-700000);
insert into "account" values (1,7,'unweighed',0);
insert into "component" values (1,1,'lentil dal','lentil dal');
insert into "component" values (1,2,'rice','rice');
insert into "component" values (1,3,'tomato sauce','tomato sauce');
insert into "component" values (1,4,'chicken','chicken');
insert into "component" values (1,5,'bake','bake');
insert into "component" values (1,6,'meatballs','meatball');
insert into "component" values (1,7,'tofu','tofu');
insert into "component" values (1,8,'chilli','chili');
insert into "batch" values (1,1,1,'D1','lentil dal','2026-10-14T17:03:00.000Z','2026-10-14',0,NULL,'cooked',1);
insert into "batch" values (1,2,2,'R2','rice','2026-10-14T17:06:00.000Z','2026-10-14',0,NULL,'cooked',1);
insert into "batch" values (1,3,3,'S3','tomato sauce','2026-10-14T17:08:00.000Z','2026-10-14',0,NULL,'cooked',1);
insert into "batch" values (1,4,4,'C4','chicken','2026-10-14T17:18:00.000Z','2026-10-14',0,NULL,'cooked',1);
insert into "batch" values (1,5,5,'B5','bake','2026-10-14T17:20:00.000Z','2026-10-14',0,NULL,'cooked',1);
insert into "batch" values (1,6,6,'M6','meatballs','2026-10-14T17:35:00.000Z','2026-10-14',0,NULL,'cooked',1);
insert into "batch" values (1,7,7,'T7','tofu','2026-10-14T17:37:00.000Z','2026-10-14',0,NULL,'bought',1);
insert into "batch" values (1,8,8,'C8','chilli','2026-10-14T17:38:00.000Z','2026-10-14',0,NULL,'before',0);
insert into "batch" values (1,9,1,'D9','lentil dal','2026-10-14T18:10:00.000Z','2026-10-14',0,NULL,'cooked',1);
insert into "place" values (1,1,'freezer','freezer');
insert into "place" values (1,2,'fridge','fridge');
insert into "place" values (1,3,'cellar','counter');
insert into "container" values (1,1,'blue pot');
insert into "container" values (1,2,'glass jar');
insert into "profile" values (1,1,'NDB 16144',NULL,'Lentils, pink or red, raw',358.0,23.91,2.17,0.379,63.1,NULL,10.8,7.0,668.0,48.0,7.39,0.0,7.82,NULL);
insert into "profile" values (1,10,'NDB 16123',NULL,'Soy sauce made from soy and wheat (shoyu)',53.0,8.14,0.57,0.073,4.93,0.4,0.8,5493.0,435.0,33.0,1.45,0.0,71.15,0.0);
insert into "profile" values (1,11,'NDB 23572',NULL,'Beef, ground, 80% lean meat / 20% fat, raw',254.0,17.17,20.0,7.581,0.0,0.0,0.0,66.0,270.0,18.0,1.94,71.0,61.87,0.0);
insert into "profile" values (1,12,'NDB 16426',NULL,'Tofu, raw, firm, prepared with calcium sulfate',144.0,17.27,8.72,1.261,2.78,NULL,2.3,14.0,237.0,683.0,2.66,0.0,69.83,NULL);
insert into "profile" values (1,13,NULL,'oat bars','oat bars',430.0,8.0,15.0,NULL,62.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
insert into "profile" values (1,2,'NDB 04506',NULL,'Oil, sunflower, linoleic, (approx. 65%)',884.0,0.0,100.0,10.3,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0);
insert into "profile" values (1,3,'NDB 11282',NULL,'Onions, raw',40.0,1.1,0.1,0.042,9.34,4.24,1.7,4.0,146.0,23.0,0.21,0.0,89.11,0.0);
insert into "profile" values (1,4,'NDB 02047',NULL,'Salt, table',0.0,0.0,0.0,0.0,0.0,0.0,0.0,38758.0,8.0,24.0,0.33,0.0,0.2,0.0);
insert into "profile" values (1,5,'NDB 20046',NULL,'Rice, white, long-grain, parboiled, enriched, dry',374.0,7.51,1.03,0.294,80.89,0.33,1.8,2.0,174.0,71.0,3.33,0.0,9.86,0.0);
insert into "profile" values (1,6,'NDB 04053',NULL,'Oil, olive, salad or cooking',884.0,0.0,100.0,13.808,0.0,0.0,0.0,2.0,1.0,1.0,0.56,0.0,0.0,0.0);
insert into "profile" values (1,7,'NDB 11531',NULL,'Tomatoes, red, ripe, canned, packed in tomato juice',16.0,0.79,0.25,0.034,3.47,2.55,1.9,115.0,191.0,33.0,0.57,0.0,94.75,0.0);
insert into "profile" values (1,8,NULL,'miso paste','miso paste',199.0,12.0,6.0,NULL,26.0,NULL,5.4,3720.0,NULL,NULL,NULL,NULL,NULL,NULL);
insert into "profile" values (1,9,'NDB 05096',NULL,'Chicken, broilers or fryers, dark meat, thigh, meat only, raw',121.0,19.66,4.12,1.097,0.0,0.0,0.0,95.0,242.0,7.0,0.81,94.0,76.22,0.0);
insert into "lot" values (1,100,1,NULL,1,NULL,NULL,NULL,NULL);
insert into "lot" values (1,102,2,NULL,2,NULL,NULL,NULL,NULL);
insert into "lot" values (1,104,3,NULL,NULL,NULL,NULL,NULL,NULL);
insert into "lot" values (1,105,4,NULL,NULL,NULL,NULL,NULL,NULL);
insert into "lot" values (1,106,5,NULL,NULL,NULL,NULL,NULL,NULL);
insert into "lot" values (1,108,2,NULL,1,NULL,NULL,102,'2026-10-14');
insert into "lot" values (1,109,2,NULL,2,NULL,NULL,108,'2026-10-14');
insert into "lot" values (1,110,6,NULL,2,NULL,NULL,NULL,NULL);
insert into "lot" values (1,111,7,NULL,2,NULL,NULL,NULL,NULL);
insert into "lot" values (1,112,8,NULL,1,NULL,NULL,NULL,NULL);
insert into "lot" values (1,113,9,NULL,NULL,NULL,NULL,NULL,NULL);
insert into "plate" values (1,101,1,'2026-10-14',NULL,2,0,'2026-10-14T17:04:00.000Z');
insert into "plate" values (1,103,2,'2026-10-14',NULL,5,0,'2026-10-14T17:07:00.000Z');
insert into "plate" values (1,107,2,'2026-10-14',NULL,24,0,'2026-10-14T17:28:00.000Z');
insert into "entry_kind" values ('batch');
insert into "entry_kind" values ('count');
insert into "entry_kind" values ('fact');
insert into "entry_kind" values ('ingredient');
insert into "entry_kind" values ('move');
insert into "entry_kind" values ('portion');
insert into "entry_kind" values ('pour_off');
insert into "entry_kind" values ('reversal');
insert into "entry_kind" values ('settle');
insert into "entry_kind" values ('taking');
insert into "entry_kind" values ('waste');
insert into "entry_kind" values ('weigh');
insert into "entry" values (1,1,'batch','2026-10-14T17:03:00.000Z','2026-10-14T17:03:00.000Z',1,1,1,1,100,0,1,NULL,NULL,NULL);
insert into "entry" values (1,10,'ingredient','2026-10-14T17:06:00.000Z','2026-10-14T17:06:00.000Z',1,4,2,1,102,400000,2,5,NULL,NULL);
insert into "entry" values (1,11,'weigh','2026-10-14T17:06:00.000Z','2026-10-14T17:06:00.000Z',1,4,3,2,102,750000,2,NULL,NULL,NULL);
insert into "entry" values (1,12,'portion','2026-10-14T17:07:00.000Z','2026-10-14T17:07:00.000Z',2,5,1,100,103,140000,1,NULL,NULL,NULL);
insert into "entry" values (1,13,'portion','2026-10-14T17:07:00.000Z','2026-10-14T17:07:00.000Z',2,5,2,102,103,180000,2,NULL,NULL,NULL);
insert into "entry" values (1,14,'portion','2026-10-14T17:07:00.000Z','2026-10-14T17:07:00.000Z',2,5,3,1,103,9000,NULL,6,NULL,NULL);
insert into "entry" values (1,15,'batch','2026-10-14T17:08:00.000Z','2026-10-14T17:08:00.000Z',1,6,1,1,104,0,3,NULL,NULL,NULL);
insert into "entry" values (1,16,'ingredient','2026-10-14T17:08:00.000Z','2026-10-14T17:08:00.000Z',1,6,2,1,104,800000,3,7,NULL,NULL);
insert into "entry" values (1,17,'ingredient','2026-10-14T17:08:00.000Z','2026-10-14T17:08:00.000Z',1,6,3,1,104,27000,3,6,NULL,NULL);
insert into "entry" values (1,18,'settle','2026-10-14T17:08:00.000Z','2026-10-14T17:08:00.000Z',1,6,4,104,2,2700,3,NULL,NULL,NULL);
insert into "entry" values (1,19,'ingredient','2026-10-14T17:09:00.000Z','2026-10-14T17:09:00.000Z',2,7,1,1,104,5000,3,4,NULL,NULL);
insert into "entry" values (1,2,'ingredient','2026-10-14T17:03:00.000Z','2026-10-14T17:03:00.000Z',1,1,2,1,100,500000,1,1,NULL,NULL);
insert into "entry" values (1,20,'ingredient','2026-10-14T17:10:00.000Z','2026-10-14T17:10:00.000Z',2,8,1,1,104,150000,3,NULL,NULL,NULL);
insert into "entry" values (1,21,'weigh','2026-10-14T17:11:00.000Z','2026-10-14T17:11:00.000Z',1,9,1,104,2,219300,3,NULL,NULL,NULL);
insert into "entry" values (1,22,'fact','2026-10-14T17:12:00.000Z','2026-10-14T17:12:00.000Z',1,10,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,23,'fact','2026-10-14T17:13:00.000Z','2026-10-14T17:13:00.000Z',1,11,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,24,'fact','2026-10-14T17:14:00.000Z','2026-10-14T17:14:00.000Z',2,12,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,25,'fact','2026-10-14T17:15:00.000Z','2026-10-14T17:15:00.000Z',1,13,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,26,'count','2026-10-14T17:16:00.000Z','2026-10-14T17:16:00.000Z',1,14,1,102,5,70000,2,NULL,NULL,NULL);
insert into "entry" values (1,27,'waste','2026-10-14T17:17:00.000Z','2026-10-14T17:17:00.000Z',2,15,1,102,4,100000,2,NULL,NULL,NULL);
insert into "entry" values (1,28,'batch','2026-10-14T17:18:00.000Z','2026-10-14T17:18:00.000Z',1,16,1,1,105,0,4,NULL,NULL,NULL);
insert into "entry" values (1,29,'ingredient','2026-10-14T17:18:00.000Z','2026-10-14T17:18:00.000Z',1,16,2,1,105,1000000,4,9,NULL,NULL);
insert into "entry" values (1,3,'ingredient','2026-10-14T17:03:00.000Z','2026-10-14T17:03:00.000Z',1,1,3,1,100,27200,1,2,NULL,NULL);
insert into "entry" values (1,30,'ingredient','2026-10-14T17:18:00.000Z','2026-10-14T17:18:00.000Z',1,16,3,1,105,40000,4,10,NULL,NULL);
insert into "entry" values (1,31,'weigh','2026-10-14T17:18:00.000Z','2026-10-14T17:18:00.000Z',1,16,4,105,2,340000,4,NULL,NULL,NULL);
insert into "entry" values (1,32,'pour_off','2026-10-14T17:19:00.000Z','2026-10-14T17:19:00.000Z',1,17,1,105,3,35000,4,NULL,NULL,NULL);
insert into "entry" values (1,33,'batch','2026-10-14T17:20:00.000Z','2026-10-14T17:20:00.000Z',1,18,1,1,106,0,5,NULL,NULL,NULL);
insert into "entry" values (1,34,'ingredient','2026-10-14T17:20:00.000Z','2026-10-14T17:20:00.000Z',1,18,2,1,106,300000,5,NULL,NULL,NULL);
insert into "entry" values (1,35,'ingredient','2026-10-14T17:20:00.000Z','2026-10-14T17:20:00.000Z',1,18,3,102,106,200000,5,NULL,NULL,NULL);
insert into "entry" values (1,36,'weigh','2026-10-14T17:20:00.000Z','2026-10-14T17:20:00.000Z',1,18,4,106,2,20000,5,NULL,NULL,NULL);
insert into "entry" values (1,37,'reversal','2026-10-14T17:17:00.000Z','2026-10-14T17:21:00.000Z',2,19,1,4,102,100000,2,NULL,27,27);
insert into "entry" values (1,38,'waste','2026-10-14T17:17:00.000Z','2026-10-14T17:21:00.000Z',2,19,2,102,4,160000,2,NULL,NULL,NULL);
insert into "entry" values (1,39,'fact','2026-10-14T17:22:00.000Z','2026-10-14T17:22:00.000Z',1,20,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,4,'ingredient','2026-10-14T17:03:00.000Z','2026-10-14T17:03:00.000Z',1,1,4,1,100,110000,1,3,NULL,NULL);
insert into "entry" values (1,40,'count','2026-10-14T17:26:00.000Z','2026-10-14T17:27:00.000Z',2,22,1,102,5,440000,2,NULL,NULL,NULL);
insert into "entry" values (1,41,'portion','2026-10-14T17:28:00.000Z','2026-10-14T17:28:00.000Z',2,24,1,100,107,360000,1,NULL,NULL,NULL);
insert into "entry" values (1,42,'move','2026-10-14T17:31:00.000Z','2026-10-14T17:31:00.000Z',1,25,1,102,108,40000,2,NULL,NULL,NULL);
insert into "entry" values (1,43,'move','2026-10-14T17:32:00.000Z','2026-10-14T17:32:00.000Z',1,26,1,108,109,30000,2,NULL,NULL,NULL);
insert into "entry" values (1,44,'batch','2026-10-14T17:35:00.000Z','2026-10-14T17:35:00.000Z',1,27,1,1,110,0,6,NULL,NULL,NULL);
insert into "entry" values (1,45,'ingredient','2026-10-14T17:35:00.000Z','2026-10-14T17:35:00.000Z',1,27,2,1,110,500000,6,11,NULL,NULL);
insert into "entry" values (1,46,'weigh','2026-10-14T17:35:00.000Z','2026-10-14T17:35:00.000Z',1,27,3,110,2,100000,6,NULL,NULL,NULL);
insert into "entry" values (1,47,'weigh','2026-10-14T17:36:00.000Z','2026-10-14T17:36:00.000Z',1,28,1,2,110,0,6,NULL,NULL,NULL);
insert into "entry" values (1,48,'fact','2026-10-14T17:36:00.000Z','2026-10-14T17:36:00.000Z',1,28,2,1,110,0,6,NULL,NULL,NULL);
insert into "entry" values (1,49,'batch','2026-10-14T17:37:00.000Z','2026-10-14T17:37:00.000Z',1,29,1,1,111,0,7,NULL,NULL,NULL);
insert into "entry" values (1,5,'ingredient','2026-10-14T17:03:00.000Z','2026-10-14T17:03:00.000Z',1,1,5,1,100,10000,1,4,NULL,NULL);
insert into "entry" values (1,50,'ingredient','2026-10-14T17:37:00.000Z','2026-10-14T17:37:00.000Z',1,29,2,1,111,500000,7,12,NULL,NULL);
insert into "entry" values (1,51,'fact','2026-10-14T17:37:00.000Z','2026-10-14T17:37:00.000Z',1,29,3,1,111,0,7,NULL,NULL,NULL);
insert into "entry" values (1,52,'batch','2026-10-14T17:38:00.000Z','2026-10-14T17:38:00.000Z',2,30,1,1,112,0,8,NULL,NULL,NULL);
insert into "entry" values (1,53,'ingredient','2026-10-14T17:38:00.000Z','2026-10-14T17:38:00.000Z',2,30,2,6,112,700000,8,NULL,NULL,NULL);
insert into "entry" values (1,54,'fact','2026-10-14T17:39:00.000Z','2026-10-14T17:39:00.000Z',1,31,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,55,'fact','2026-10-14T17:40:00.000Z','2026-10-14T17:40:00.000Z',1,32,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,56,'taking','2026-10-14T17:43:00.000Z','2026-10-14T17:43:00.000Z',2,33,1,102,7,0,2,NULL,NULL,NULL);
insert into "entry" values (1,57,'taking','2026-10-14T17:43:00.000Z','2026-10-14T17:43:00.000Z',2,33,2,109,7,0,2,NULL,NULL,NULL);
insert into "entry" values (1,58,'waste','2026-10-14T17:44:00.000Z','2026-10-14T17:44:00.000Z',1,34,1,105,4,50000,4,NULL,NULL,NULL);
insert into "entry" values (1,59,'fact','2026-10-14T17:45:00.000Z','2026-10-14T17:45:00.000Z',1,35,1,1,100,0,1,NULL,NULL,NULL);
insert into "entry" values (1,6,'weigh','2026-10-14T17:03:00.000Z','2026-10-14T17:03:00.000Z',1,1,6,2,100,1192800,1,NULL,NULL,NULL);
insert into "entry" values (1,60,'fact','2026-10-14T17:51:00.000Z','2026-10-14T17:51:00.000Z',1,37,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,61,'fact','2026-10-14T17:54:00.000Z','2026-10-14T17:54:00.000Z',1,38,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,62,'fact','2026-10-14T17:55:00.000Z','2026-10-14T17:55:00.000Z',2,39,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,63,'fact','2026-10-14T17:56:00.000Z','2026-10-14T17:56:00.000Z',1,40,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,64,'reversal','2026-10-14T17:54:00.000Z','2026-10-14T17:56:00.000Z',1,40,2,6,1,0,NULL,NULL,61,61);
insert into "entry" values (1,65,'fact','2026-10-14T17:57:00.000Z','2026-10-14T17:57:00.000Z',2,41,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,66,'fact','2026-10-14T18:00:00.000Z','2026-10-14T18:00:00.000Z',1,42,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,67,'fact','2026-10-14T18:01:00.000Z','2026-10-14T18:01:00.000Z',1,43,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,68,'fact','2026-10-14T18:02:00.000Z','2026-10-14T18:02:00.000Z',1,44,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,69,'fact','2026-10-14T18:03:00.000Z','2026-10-14T18:03:00.000Z',1,45,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,7,'portion','2026-10-14T17:04:00.000Z','2026-10-14T17:04:00.000Z',1,2,1,100,101,140000,1,NULL,NULL,NULL);
insert into "entry" values (1,70,'fact','2026-10-14T18:04:00.000Z','2026-10-14T18:04:00.000Z',1,46,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,71,'fact','2026-10-14T18:05:00.000Z','2026-10-14T18:05:00.000Z',1,47,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,72,'fact','2026-10-14T18:06:00.000Z','2026-10-14T18:06:00.000Z',1,48,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,73,'fact','2026-10-14T18:07:00.000Z','2026-10-14T18:07:00.000Z',1,49,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,74,'batch','2026-10-14T18:10:00.000Z','2026-10-14T18:10:00.000Z',1,50,1,1,113,0,9,NULL,NULL,NULL);
insert into "entry" values (1,75,'ingredient','2026-10-14T18:10:00.000Z','2026-10-14T18:10:00.000Z',1,50,2,1,113,600000,9,1,NULL,NULL);
insert into "entry" values (1,76,'ingredient','2026-10-14T18:10:00.000Z','2026-10-14T18:10:00.000Z',1,50,3,1,113,40000,9,2,NULL,NULL);
insert into "entry" values (1,77,'settle','2026-10-14T18:10:00.000Z','2026-10-14T18:10:00.000Z',1,50,4,2,113,1179530,9,NULL,NULL,NULL);
insert into "entry" values (1,78,'fact','2026-10-14T18:13:00.000Z','2026-10-14T18:13:00.000Z',1,51,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,79,'fact','2026-10-14T18:13:00.000Z','2026-10-14T18:13:00.000Z',1,51,2,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,8,'reversal','2026-10-14T17:04:00.000Z','2026-10-14T17:05:00.000Z',1,3,1,101,100,140000,1,NULL,7,7);
insert into "entry" values (1,80,'fact','2026-10-14T18:14:00.000Z','2026-10-14T18:14:00.000Z',2,52,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,81,'fact','2026-10-14T18:17:00.000Z','2026-10-14T18:17:00.000Z',1,53,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,82,'fact','2026-10-14T18:17:00.000Z','2026-10-14T18:17:00.000Z',1,53,2,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,83,'fact','2026-10-14T18:17:00.000Z','2026-10-14T18:17:00.000Z',1,53,3,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,84,'fact','2026-10-14T18:18:00.000Z','2026-10-14T18:18:00.000Z',2,54,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,85,'fact','2026-10-14T18:19:00.000Z','2026-10-14T18:19:00.000Z',2,55,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,86,'fact','2026-10-14T18:22:00.000Z','2026-10-14T18:22:00.000Z',1,56,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,87,'fact','2026-10-14T18:25:00.000Z','2026-10-14T18:25:00.000Z',1,57,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,88,'fact','2026-10-14T18:26:00.000Z','2026-10-14T18:26:00.000Z',2,58,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,89,'fact','2026-10-14T18:27:00.000Z','2026-10-14T18:27:00.000Z',2,59,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,9,'batch','2026-10-14T17:06:00.000Z','2026-10-14T17:06:00.000Z',1,4,1,1,102,0,2,NULL,NULL,NULL);
insert into "entry" values (1,90,'fact','2026-10-14T18:28:00.000Z','2026-10-14T18:28:00.000Z',1,60,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,91,'fact','2026-10-14T18:31:00.000Z','2026-10-14T18:31:00.000Z',1,61,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,92,'fact','2026-10-14T18:32:00.000Z','2026-10-14T18:32:00.000Z',1,62,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "voided" values (1,27);
insert into "voided" values (1,61);
insert into "voided" values (1,7);
insert into "ingredient" values (1,10,1,'400 g dry white rice',NULL,'known',0,'kinds=NDB 20036',NULL);
insert into "ingredient" values (1,16,1,'800 g canned tomatoes',NULL,'known',0,'kinds=NDB 11885,NDB 11533',NULL);
insert into "ingredient" values (1,17,2,'2 tbsp olive oil',NULL,'known',1,'measure=tablespoon',NULL);
insert into "ingredient" values (1,19,3,'5 g salt',NULL,'known',0,NULL,NULL);
insert into "ingredient" values (1,2,1,'500 g red lentils',NULL,'known',0,'dry=NDB 16070',NULL);
insert into "ingredient" values (1,20,4,'150 sauce',NULL,'no_food',0,NULL,NULL);
insert into "ingredient" values (1,29,1,'1 kg raw chicken thighs',NULL,'known',0,'kinds=NDB 05091',NULL);
insert into "ingredient" values (1,3,2,'2 tbsp sunflower oil',NULL,'known',1,'kinds=NDB 04584; measure=tbsp',NULL);
insert into "ingredient" values (1,30,2,'40 g soy sauce',NULL,'known',0,'kinds=NDB 16424,NDB 16124',NULL);
insert into "ingredient" values (1,34,1,'300 g dal',NULL,'no_food',0,NULL,NULL);
insert into "ingredient" values (1,35,2,'200 g rice',NULL,'known',0,NULL,2);
insert into "ingredient" values (1,4,3,'1 medium onion',NULL,'known',1,'raw=NDB 11283; measure=medium (2-1/2" dia)',NULL);
insert into "ingredient" values (1,45,1,'500 g raw minced beef',NULL,'known',0,'kinds=NDB 23567,NDB 23562,NDB 23557,NDB 23577',NULL);
insert into "ingredient" values (1,5,4,'10 g salt',NULL,'known',0,NULL,NULL);
insert into "ingredient" values (1,50,1,'500 g tofu',NULL,'known',0,'kinds=NDB 16126,NDB 16159,NDB 16427',NULL);
insert into "ingredient" values (1,53,1,'700 chilli',NULL,'no_food',0,NULL,NULL);
insert into "ingredient" values (1,75,1,'600 g red lentils',NULL,'known',0,'dry=NDB 16070',NULL);
insert into "ingredient" values (1,76,2,'40 g sunflower oil',NULL,'known',0,'kinds=NDB 04584',NULL);
insert into "weighing" values (1,11,1150000,0,1150000);
insert into "weighing" values (1,21,760000,0,760000);
insert into "weighing" values (1,26,900000,0,900000);
insert into "weighing" values (1,31,700000,0,700000);
insert into "weighing" values (1,36,480000,0,480000);
insert into "weighing" values (1,40,100000,0,100000);
insert into "weighing" values (1,46,400000,0,400000);
insert into "weighing" values (1,47,400000,0,400000);
insert into "weighing" values (1,6,2310000,470000,1840000);
insert into "pour_off" values (1,32,'fat',NULL);
insert into "portion" values (1,12,0);
insert into "portion" values (1,13,0);
insert into "portion" values (1,14,1);
insert into "portion" values (1,41,1);
insert into "portion" values (1,7,0);
insert into "packet" values (1,25,'miso paste','miso paste',8,NULL,0);
insert into "packet" values (1,91,'oat bars','oat bar',13,NULL,0);
insert into "measure" values (1,24,'ladle','dal',180000);
insert into "tare" values (1,22,1,812000);
insert into "setting" values (1,39,'measures','metric');
insert into "question" values (1,1,2,8,'which_food','150 sauce','[["Sauce, barbecue","S3 line 4: 150 NDB 06150"],["Sauce, worcestershire","S3 line 4: 150 NDB 06971"],["Sauce, horseradish","S3 line 4: 150 NDB 27066"],["Sauce, teriyaki, ready-to-serve","S3 line 4: 150 NDB 06112"],["Sauce, plum, ready-to-serve","S3 line 4: 150 NDB 06151"]]','2026-10-14T17:10:00.000Z',NULL,1,'2026-10-14T17:10:00.000Z','2026-10-14T17:40:00.000Z',NULL,NULL,NULL,NULL);
insert into "question" values (1,2,1,18,'which_food','300 g dal','[]','2026-10-14T17:20:00.000Z',NULL,1,'2026-10-14T17:20:00.000Z','2026-10-14T17:50:00.000Z',NULL,NULL,NULL,NULL);
insert into "question" values (1,3,2,22,'confirm','rice','[["yes, 100 g","recount: rice 100 g anyway"],["no, the books are right: 540 g","recount: rice 540 g anyway"]]','2026-10-14T17:26:00.000Z',NULL,0,'2026-10-14T17:26:00.000Z','2026-10-14T17:56:00.000Z','2026-10-14T17:27:00.000Z',23,40,41);
insert into "batch_origin" values ('before');
insert into "batch_origin" values ('bought');
insert into "batch_origin" values ('boxed');
insert into "batch_origin" values ('cooked');
insert into "batch_origin" values ('leftover');
insert into "batch_origin" values ('topped_up');
insert into "pieces" values (1,48,14,NULL,NULL);
insert into "told_date" values (1,51,111,'2026-12-03');
insert into "own_days" values (1,54,1,'fridge',3,'day');
insert into "place_kind" values (1,55,3,'fridge');
insert into "taking" values (1,56,'some',2);
insert into "taking" values (1,57,'some',2);
insert into "waste" values (1,58,'slimy');
insert into "price" values (1,59,640,'');
insert into "vessel" values (1,23,100,1,NULL);
insert into "vessel" values (1,60,104,2,NULL);
insert into "reminder_kind" values ('once');
insert into "reminder_kind" values ('timer');
insert into "reminder" values (1,61,'timer',1,'dal','2026-10-14T18:29:00.000Z',NULL);
insert into "reminder" values (1,62,'once',2,'soak the beans','2026-10-18T09:00:00.000Z','2026-10-18T10:00');
insert into "reminder_state" values (1,61,'bridge','c1',NULL,'2026-10-14T18:29:00.000Z','void','2026-10-14T17:54:00.000Z',NULL);
insert into "reminder_state" values (1,62,'bridge','c1',NULL,'2026-10-18T09:00:00.000Z','waiting','2026-10-14T17:55:00.000Z',NULL);
insert into "note_kind" values ('evening');
insert into "note_kind" values ('morning');
insert into "note_kind" values ('prep');
insert into "note_kind" values ('put_away');
insert into "note_said" values ('bridge','c1','evening','2026-10-14',1,'2026-10-14T18:00:00.000Z','2026-10-14T18:00:00.000Z','nothing',NULL);
insert into "schedule" values ('bridge','c1',1,'2026-10-14T17:03:00.000Z','2026-10-14T18:41:00.000Z');
insert into "absence" values (1,65,2,'2026-10-16','2026-10-16');
insert into "good_fact_kind" values ('always');
insert into "good_fact_kind" values ('holds');
insert into "good_fact_kind" values ('out');
insert into "good_fact_kind" values ('pack');
insert into "good_fact_kind" values ('price');
insert into "good_fact_kind" values ('trimmed');
insert into "good_fact" values (1,66,'trimmed','parsnip','parsnips','NDB 11298',1150000,980000,NULL,NULL,NULL);
insert into "good_fact" values (1,67,'pack','red lentil','red lentils','NDB 16144',500000,NULL,'bag',NULL,NULL);
insert into "good_fact" values (1,68,'price','red lentil','red lentils','NDB 16144',1000000,NULL,NULL,240,'');
insert into "prep_fact_kind" values ('burners');
insert into "prep_fact_kind" values ('par');
insert into "prep_fact_kind" values ('pot');
insert into "prep_fact_kind" values ('pots_a_day');
insert into "prep_fact_kind" values ('trays');
insert into "prep_fact" values (1,69,'par',1,800000,NULL);
insert into "prep_fact" values (1,70,'pot',NULL,4000000,NULL);
insert into "prep_fact" values (1,71,'burners',NULL,NULL,4);
insert into "wish" values (1,72,2,'2026-10-16','2026-10-16',1080000,NULL,6);
insert into "steps_told" values (1,73,1);
insert into "step" values (1,73,1,'soak',480,'nothing',NULL);
insert into "step" values (1,73,2,'simmer',35,'burner',NULL);
insert into "step" values (1,73,3,'freeze flat',120,'nothing',NULL);
insert into "own_yield" values (1,9,1,2.843016069221260711e+00,2.843016069221260711e+00,2.843016069221260711e+00,0.0);
insert into "list_fact_kind" values ('begun');
insert into "list_fact_kind" values ('closed');
insert into "list_fact_kind" values ('planned');
insert into "list_fact_kind" values ('ticked');
insert into "list_fact_kind" values ('wanted');
insert into "list_fact" values (1,78,78,'begun',NULL,NULL,NULL,NULL,NULL,0,NULL,NULL);
insert into "list_fact" values (1,79,78,'wanted','onion','onions','NDB 11282',2000000,NULL,0,NULL,NULL);
insert into "list_fact" values (1,80,78,'ticked','onion','onions','NDB 11282',NULL,NULL,0,NULL,NULL);
insert into "personal_kind" values ('here');
insert into "personal_kind" values ('keeper');
insert into "personal_kind" values ('name');
insert into "personal_kind" values ('nickname');
insert into "personal_kind" values ('numbers');
insert into "personal_kind" values ('private');
insert into "personal_kind" values ('removed');
insert into "personal_kind" values ('target');
insert into "personal" values (1,81,1,'target','energy',2200.0,2200.0,NULL,NULL);
insert into "personal" values (1,82,1,'target','protein',120.0,140.0,NULL,NULL);
insert into "personal" values (1,83,1,'target','fibre',30.0,NULL,NULL,NULL);
insert into "personal" values (1,84,2,'numbers',NULL,NULL,NULL,0,NULL);
insert into "personal" values (1,85,2,'private',NULL,NULL,NULL,1,NULL);
insert into "personal" values (1,87,3,'here',NULL,NULL,NULL,1,NULL);
insert into "personal" values (1,88,2,'nickname',NULL,NULL,NULL,NULL,'Annie');
insert into "home_level" values (1,86,'oat','oats','NDB 08120',500000);
insert into "avoidance" values (1,89,2,'peanuts',1,1);
insert into "avoidance" values (1,90,1,'pork',0,1);
insert into "contents" values (1,92,'oat bar','oat bars','hazelnuts
milk',0);
CREATE UNIQUE INDEX member_person on member (person_id, household_id) where person_id is not null;
CREATE INDEX chat_household on chat (household_id);
CREATE INDEX message_waiting on message (message_id) where outcome is null;
CREATE INDEX outbox_waiting on outbox (channel, outbox_id) where sent_at is null and failed_at is null;
CREATE INDEX outbox_message on outbox (message_id);
CREATE INDEX outbox_edits on outbox (edits) where edits is not null;
CREATE INDEX outbox_external on outbox (channel, chat, external_id) where external_id is not null;
CREATE INDEX batch_open on batch (household_id) where closed_at is null;
CREATE INDEX batch_closed on batch (household_id, closed_at) where closed_at is not null;
CREATE INDEX batch_component on batch (household_id, component_id, batch_id);
CREATE INDEX profile_food on profile (household_id, food, profile_id) where food is not null;
CREATE INDEX lot_batch on lot (household_id, batch_id);
CREATE INDEX plate_day on plate (household_id, day, member_id);
CREATE INDEX entry_batch on entry (household_id, batch_id, kind) where batch_id is not null;
CREATE INDEX entry_water on entry (household_id, batch_id) where from_id = 2 or to_id = 2;
CREATE INDEX entry_from on entry (household_id, from_id, entry_id) where from_id >= 100;
CREATE INDEX entry_to on entry (household_id, to_id, entry_id) where to_id >= 100;
CREATE INDEX entry_member on entry (household_id, member_id, entry_id, message_id);
CREATE TRIGGER entry_is_never_updated before update on entry
begin
    select raise(abort, 'entries are never updated');
end;
CREATE TRIGGER entry_is_never_deleted before delete on entry
begin
    select raise(abort, 'entries are never deleted');
end;
CREATE TRIGGER entry_reversal_mirrors before insert on entry when new.reverses is not null
begin
    select raise(abort, 'a reversal mirrors its entry')
    where not exists (
        select 1 from entry as original
        where original.household_id = new.household_id and original.entry_id = new.reverses
          and original.from_id = new.to_id and original.to_id = new.from_id
          and original.mass_mg = new.mass_mg
          and coalesce(original.root, original.entry_id) = new.root
    );
end;
CREATE TRIGGER entry_moves_balances after insert on entry
begin
    update account set balance_mg = balance_mg - new.mass_mg
    where household_id = new.household_id and account_id = new.from_id and new.mass_mg > 0;
    update account set balance_mg = balance_mg + new.mass_mg
    where household_id = new.household_id and account_id = new.to_id and new.mass_mg > 0;
end;
CREATE TRIGGER entry_voids_its_root after insert on entry when new.root is not null
begin
    insert into voided (household_id, entry_id)
    select new.household_id, new.root
    where (select count(*) from entry
           where household_id = new.household_id and root = new.root) % 2 = 1;
    delete from voided
    where household_id = new.household_id and entry_id = new.root
      and (select count(*) from entry
           where household_id = new.household_id and root = new.root) % 2 = 0;
end;
CREATE INDEX entry_root on entry (household_id, root) where root is not null;
CREATE INDEX question_open on question (household_id, member_id) where closed_at is null;
CREATE INDEX question_answered on question (answered_by) where answered_by is not null;
CREATE INDEX entry_report on entry (household_id, occurred_at, batch_id) where kind in ('count', 'waste');
CREATE INDEX outbox_chat on outbox (channel, chat, outbox_id);
CREATE INDEX vessel_lot on vessel (household_id, lot_id);
CREATE INDEX reminder_due on reminder_state (channel, due_at) where state = 'waiting';
CREATE INDEX reminder_waiting on reminder_state (household_id) where state = 'waiting';
CREATE INDEX reminder_said on reminder_state (household_id, changed_at) where state = 'said';
CREATE TRIGGER reminder_is_taken_back after insert on voided
begin
    update reminder_state set state = 'void'
    where household_id = new.household_id and entry_id = new.entry_id and state = 'waiting';
end;
CREATE TRIGGER reminder_is_put_back after delete on voided
begin
    update reminder_state set state = 'waiting'
    where household_id = old.household_id and entry_id = old.entry_id and state = 'void';
end;
CREATE INDEX schedule_next on schedule (channel, next_at) where next_at is not null;
CREATE INDEX schedule_of on schedule (household_id);
CREATE INDEX list_fact_of_list on list_fact (household_id, list_id, entry_id);
CREATE INDEX list_begun on list_fact (household_id, entry_id) where kind = 'begun';
CREATE VIEW away_from_table as
select p.household_id, p.about_id as member_id
from personal p
where (p.kind = 'removed' or p.kind = 'here' and p.chosen = 0)
  and not exists (select 1 from voided v where v.household_id = p.household_id and v.entry_id = p.entry_id)
  and not exists (select 1 from personal later
                  where later.household_id = p.household_id and later.about_id = p.about_id
                    and later.kind = 'here' and later.chosen = 1 and later.entry_id > p.entry_id
                    and not exists (select 1 from voided v
                                    where v.household_id = later.household_id and v.entry_id = later.entry_id));
