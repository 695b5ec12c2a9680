-- The books of every household in one file.
--
-- Types. All tables are strict: SQLite would otherwise keep '140' beside 140. Mass is an integer
-- count of milligrams, decided here once, since sums of floating grams would drift. Times are RFC
-- 3339 text in UTC, which sorts as it reads; a kitchen's day is a plain date, since it is the
-- household's own and has no zone.
--
-- Keys. Every key below a household is (household_id, n) with n counted within the household, so
-- that one household's rows can be copied to another file as they are.

create table household (
    household_id integer primary key,
    name         text    not null,
    timezone     text    not null,          -- IANA name
    created_at   text    not null
) strict;

-- A human, whatever accounts and households they have.
create table person (
    person_id  integer primary key,
    created_at text    not null
) strict;

-- An account in a channel. One person may have several.
create table identity (
    channel   text    not null,
    sender    text    not null,             -- the channel's own id
    person_id integer not null references person,
    primary key (channel, sender)
) strict, without rowid;

-- A person at a household's table; guests and children have no person.
create table member (
    household_id integer not null references household,
    member_id    integer not null,
    person_id    integer references person,
    name         text    not null,
    keeper       integer not null default 0 check (keeper in (0, 1)),
    joined_at    text    not null,
    left_at      text,
    primary key (household_id, member_id)
) strict, without rowid;
create unique index member_person on member (person_id, household_id) where person_id is not null;

-- A chat that a household is reached in. A group that moves keeps its old number as a second row
-- that points on, so that late messages and exports by the old number still find the household.
create table chat (
    channel      text    not null,
    chat         text    not null,          -- the channel's own id
    household_id integer not null references household,
    private      integer not null check (private in (0, 1)),
    moved_to     text,
    primary key (channel, chat)
) strict, without rowid;
create index chat_household on chat (household_id);

-- A chat that nobody has let in. It is told so once; nothing that it says is kept.
create table stranger (
    channel      text    not null,
    chat         text    not null,
    told_at      text    not null,
    primary key (channel, chat)
) strict, without rowid;

-- One-time codes that let a chat in. Only a digest is kept: who reads the file cannot use them.
create table invite (
    code_digest  text    primary key,
    created_at   text    not null,
    expires_at   text    not null,
    used_at      text,
    household_id integer references household
) strict, without rowid;

-- The inbox. A message is stored before the channel is told that it arrived, and booked after.
-- Messages carry people's words, so they stand apart from the ledger and can be deleted alone.
create table message (
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
create index message_waiting on message (message_id) where outcome is null;

-- The outbox. Written in the transaction that books; sent and marked afterwards.
create table outbox (
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
) strict;
create index outbox_waiting on outbox (channel, outbox_id) where sent_at is null and failed_at is null;
create index outbox_message on outbox (message_id);
create index outbox_edits on outbox (edits) where edits is not null;
create index outbox_external on outbox (channel, chat, external_id) where external_id is not null;

-- An account holds mass. The seven that every household has once have fixed numbers 1 to 7; lots
-- and plates are accounts of their own, numbered from 100. The balance is a cache of the sum over
-- entries, kept by a trigger in the same transaction and compared with the fold in tests: without
-- it, every answer would read years of entries.
create table account (
    household_id integer not null references household,
    account_id   integer not null,
    kind         text    not null check (kind in ('bought', 'water', 'poured', 'waste', 'difference',
                                                  'origin', 'unweighed', 'lot', 'plate')),
    balance_mg   integer not null default 0,
    primary key (household_id, account_id)
) strict, without rowid;

-- A component is what a household calls a dish that it cooks again and again; each pot of it is a batch.
create table component (
    household_id integer not null references household,
    component_id integer not null,
    name         text    not null,
    name_key     text    not null,          -- folded: case, accents, plurals
    primary key (household_id, component_id),
    unique (household_id, name_key)
) strict, without rowid;

create table batch (
    household_id integer not null references household,
    batch_id     integer not null,
    component_id integer not null,
    code         text    not null,          -- short, typed at the stove and written on tape: D7
    name         text    not null,
    made_at      text    not null,
    made_on      text    not null,          -- the household's own day
    raw          integer not null check (raw in (0, 1)),
    closed_at    text,                      -- null: on the board; a finished batch stays in the books
    primary key (household_id, batch_id),
    unique (household_id, code),
    foreign key (household_id, component_id) references component
) strict, without rowid;
create index batch_open on batch (household_id) where closed_at is null;
create index batch_closed on batch (household_id, closed_at) where closed_at is not null;
create index batch_component on batch (household_id, component_id, batch_id);

create table place (
    household_id integer not null references household,
    place_id     integer not null,
    name         text    not null,
    kind         text    not null check (kind in ('fridge', 'freezer', 'counter')),
    primary key (household_id, place_id),
    unique (household_id, name)
) strict, without rowid;

create table container (
    household_id integer not null references household,
    container_id integer not null,
    name         text    not null,
    primary key (household_id, container_id),
    unique (household_id, name)
) strict, without rowid;

-- Nutrients per 100 g as they were when they were used, so that a later table never rewrites old
-- books. Null is unknown, never zero. The profile of a plain food or a packet; a batch has none:
-- its nutrients are derived from its ingredients.
create table profile (
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
create index profile_food on profile (household_id, food, profile_id) where food is not null;

-- A quantity in one place: of a batch, or of a bought plain food or packet.
create table lot (
    household_id integer not null,
    account_id   integer not null,
    batch_id     integer,
    profile_id   integer,
    place_id     integer,
    container_id integer,
    use_by       text,
    primary key (household_id, account_id),
    check ((batch_id is null) <> (profile_id is null)),
    foreign key (household_id, account_id) references account,
    foreign key (household_id, batch_id) references batch,
    foreign key (household_id, profile_id) references profile,
    foreign key (household_id, place_id) references place,
    foreign key (household_id, container_id) references container
) strict, without rowid;
create index lot_batch on lot (household_id, batch_id);

-- One bowl of one person; bowls of one person, day and meal are one sitting. A portion's nutrients are derived, not stored.
create table plate (
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
create index plate_day on plate (household_id, day, member_id);

-- A look-up table rather than a check: a new kind is a row, where a check would rebuild the table.
create table entry_kind (
    kind text primary key
) strict, without rowid;
insert into entry_kind (kind) values
    ('batch'), ('ingredient'), ('weigh'), ('settle'), ('pour_off'), ('portion'), ('waste'), ('count'),
    ('fact'), ('reversal');

-- The journal. One row is one movement with two ends, so it sums to zero by its shape. It holds no
-- text and no names: those stand in tables that can be deleted.
create table entry (
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
create index entry_batch on entry (household_id, batch_id, kind) where batch_id is not null;
create index entry_water on entry (household_id, batch_id) where from_id = 2 or to_id = 2;
create index entry_from on entry (household_id, from_id, entry_id) where from_id >= 100;
create index entry_to on entry (household_id, to_id, entry_id) where to_id >= 100;
create index entry_member on entry (household_id, member_id, entry_id, message_id);

create trigger entry_is_never_updated before update on entry
begin
    select raise(abort, 'entries are never updated');
end;
create trigger entry_is_never_deleted before delete on entry
begin
    select raise(abort, 'entries are never deleted');
end;
create trigger entry_reversal_mirrors before insert on entry when new.reverses is not null
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

-- Entries that stand reversed. A cache: an entry is void when an odd number of reversals has it as
-- root, since an undo can be undone.
create table voided (
    household_id integer not null,
    entry_id     integer not null,
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;

create trigger entry_moves_balances after insert on entry
begin
    update account set balance_mg = balance_mg - new.mass_mg
    where household_id = new.household_id and account_id = new.from_id and new.mass_mg > 0;
    update account set balance_mg = balance_mg + new.mass_mg
    where household_id = new.household_id and account_id = new.to_id and new.mass_mg > 0;
end;
create trigger entry_voids_its_root after insert on entry when new.root is not null
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
create index entry_root on entry (household_id, root) where root is not null;

-- What entries were about, in words and figures: one row an entry, never changed. A detail counts
-- while its entry is not void, so undoing an entry undoes what it taught as well.

create table ingredient (
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

-- What the scale said, and what was taken off; `net_mg` is what the books are held to.
create table weighing (
    household_id integer not null,
    entry_id     integer not null,
    gross_mg     integer not null,
    tare_mg      integer not null,
    net_mg       integer not null,
    primary key (household_id, entry_id),
    check (net_mg = gross_mg - tare_mg),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;

create table pour_off (
    household_id integer not null,
    entry_id     integer not null,
    what         text    not null check (what in ('fat', 'part', 'whole')),
    part         text,                      -- which part left, for 'part'
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;

create table portion (
    household_id integer not null,
    entry_id     integer not null,
    estimated    integer not null check (estimated in (0, 1)), -- from a volume, a count, or judged by eye
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;

create table packet (
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

create table measure (
    household_id integer not null,
    entry_id     integer not null,
    measure      text    not null,          -- 'ladle'
    name_key     text,                      -- of what; null: of anything
    each_mg      integer not null check (each_mg > 0),
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;

create table tare (
    household_id integer not null,
    entry_id     integer not null,
    container_id integer not null,
    tare_mg      integer not null check (tare_mg >= 0),
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, container_id) references container
) strict, without rowid;

create table content (
    household_id integer not null,
    entry_id     integer not null,
    container_id integer not null,
    batch_id     integer not null,
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, container_id) references container,
    foreign key (household_id, batch_id) references batch
) strict, without rowid;

-- A word that the household has chosen a food for.
create table choice (
    household_id integer not null,
    entry_id     integer not null,
    name_key     text    not null,
    food         text    not null,          -- 'NDB 04506'
    eaten        integer not null check (eaten in (0, 1)), -- on a plate, not in a pot: "rice" is cooked there and dry here
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;

create table setting (
    household_id integer not null,
    entry_id     integer not null,
    key          text    not null,
    value        text    not null,
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;

-- A question to one person. Its options are whole sentences of the bot's language, so an answer is
-- handled as if the asker had written the option instead.
create table question (
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
    closed_at    text,
    primary key (household_id, question_id),
    foreign key (household_id, member_id) references member
) strict, without rowid;
create index question_open on question (household_id, member_id) where closed_at is null;
