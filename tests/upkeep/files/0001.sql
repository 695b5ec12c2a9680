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
) strict;
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
    closed_at    text,                      -- null: on the board; a finished batch stays in the books
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
    use_by       text,
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
CREATE TABLE content (
    household_id integer not null,
    entry_id     integer not null,
    container_id integer not null,
    batch_id     integer not null,
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, container_id) references container,
    foreign key (household_id, batch_id) references batch
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
    closed_at    text,
    primary key (household_id, question_id),
    foreign key (household_id, member_id) references member
) strict, without rowid;
insert into "_sqlx_migrations" values (1,'books','2026-11-30 14:24:02',1,X'04C0D5497C3C180F92FEBB498690374322B798487972B7BF01398F58A2ADCFC157B1B6A19271CA0ADF5BA7CAC3CEE4AC',23233205);
insert into "household" values (1,'c1','Europe/Dublin','2026-10-14T17:01:00.000Z');
insert into "person" values (1,'2026-10-14T17:01:00.000Z');
insert into "person" values (2,'2026-10-14T17:05:00.000Z');
insert into "identity" values ('bridge','u-Ana',2);
insert into "identity" values ('bridge','u-Robin',1);
insert into "member" values (1,1,1,'Robin',0,'2026-10-14T17:01:00.000Z',NULL);
insert into "member" values (1,2,2,'Ana',0,'2026-10-14T17:05:00.000Z',NULL);
insert into "chat" values ('bridge','c1',1,0,NULL);
insert into "message" values (1,'bridge','c1','m1',0,'message','u-Robin','Robin','batch lentil dal
500 g red lentils
2 tbsp sunflower oil
1 medium onion
10 g salt
cooked 2310 in the pot, pot 470
freezer',NULL,NULL,0,0,NULL,'2026-10-14T17:01:00.000Z','2026-10-14T17:01:00.000Z',0,'recorded',1,1);
insert into "message" values (2,'bridge','c1','m2',0,'message','u-Robin','Robin','140 dal',NULL,NULL,0,0,NULL,'2026-10-14T17:02:00.000Z','2026-10-14T17:02:00.000Z',0,'recorded',1,1);
insert into "message" values (3,'bridge','c1','m3',0,'message','u-Robin','Robin','undo',NULL,NULL,0,0,NULL,'2026-10-14T17:03:00.000Z','2026-10-14T17:03:00.000Z',0,'recorded',1,1);
insert into "message" values (4,'bridge','c1','m4',0,'message','u-Robin','Robin','batch rice, 400 g dry white rice, cooked 1150, fridge',NULL,NULL,0,0,NULL,'2026-10-14T17:04:00.000Z','2026-10-14T17:04:00.000Z',0,'recorded',1,1);
insert into "message" values (5,'bridge','c1','m5',0,'message','u-Ana','Ana','140 dal, 180 rice, 2 tsp olive oil',NULL,NULL,0,0,NULL,'2026-10-14T17:05:00.000Z','2026-10-14T17:05:00.000Z',0,'recorded',1,2);
insert into "message" values (6,'bridge','c1','m6',0,'message','u-Robin','Robin','batch tomato sauce, 800 g canned tomatoes, 2 tbsp olive oil',NULL,NULL,0,0,NULL,'2026-10-14T17:06:00.000Z','2026-10-14T17:06:00.000Z',0,'recorded',1,1);
insert into "message" values (7,'bridge','c1','m7',0,'message','u-Ana','Ana','sauce + 5 g salt',NULL,NULL,0,0,NULL,'2026-10-14T17:07:00.000Z','2026-10-14T17:07:00.000Z',0,'recorded',1,2);
insert into "message" values (8,'bridge','c1','m8',0,'message','u-Ana','Ana','150 sauce',NULL,NULL,0,0,NULL,'2026-10-14T17:08:00.000Z','2026-10-14T17:08:00.000Z',0,'recorded',1,2);
insert into "message" values (9,'bridge','c1','m9',0,'message','u-Robin','Robin','tomato sauce weighed 760',NULL,NULL,0,0,NULL,'2026-10-14T17:09:00.000Z','2026-10-14T17:09:00.000Z',0,'recorded',1,1);
insert into "message" values (10,'bridge','c1','m10',0,'message','u-Robin','Robin','blue pot is 812 g empty',NULL,NULL,0,0,NULL,'2026-10-14T17:10:00.000Z','2026-10-14T17:10:00.000Z',0,'recorded',1,1);
insert into "message" values (11,'bridge','c1','m11',0,'message','u-Robin','Robin','blue pot holds dal',NULL,NULL,0,0,NULL,'2026-10-14T17:11:00.000Z','2026-10-14T17:11:00.000Z',0,'recorded',1,1);
insert into "message" values (12,'bridge','c1','m12',0,'message','u-Ana','Ana','1 ladle dal = 180 g',NULL,NULL,0,0,NULL,'2026-10-14T17:12:00.000Z','2026-10-14T17:12:00.000Z',0,'recorded',1,2);
insert into "message" values (13,'bridge','c1','m13',0,'message','u-Robin','Robin','packet miso paste per 100 g: 199 kcal, 12 protein, 6 fat, 26 carb, 5.4 fibre, salt 9.3 g',NULL,NULL,0,0,NULL,'2026-10-14T17:13:00.000Z','2026-10-14T17:13:00.000Z',0,'recorded',1,1);
insert into "message" values (14,'bridge','c1','m14',0,'message','u-Robin','Robin','recount: rice 900',NULL,NULL,0,0,NULL,'2026-10-14T17:14:00.000Z','2026-10-14T17:14:00.000Z',0,'recorded',1,1);
insert into "message" values (15,'bridge','c1','m15',0,'message','u-Ana','Ana','binned 100 rice',NULL,NULL,0,0,NULL,'2026-10-14T17:15:00.000Z','2026-10-14T17:15:00.000Z',0,'recorded',1,2);
insert into "message" values (16,'bridge','c1','m16',0,'message','u-Robin','Robin','batch chicken, 1 kg raw chicken thighs, 40 g soy sauce, cooked 700',NULL,NULL,0,0,NULL,'2026-10-14T17:16:00.000Z','2026-10-14T17:16:00.000Z',0,'recorded',1,1);
insert into "message" values (17,'bridge','c1','m17',0,'message','u-Robin','Robin','drained 35 g fat from the chicken',NULL,NULL,0,0,NULL,'2026-10-14T17:17:00.000Z','2026-10-14T17:17:00.000Z',0,'recorded',1,1);
insert into "message" values (18,'bridge','c1','m18',0,'message','u-Robin','Robin','batch bake, 300 g dal, 200 g rice, cooked 480',NULL,NULL,0,0,NULL,'2026-10-14T17:18:00.000Z','2026-10-14T17:18:00.000Z',0,'recorded',1,1);
insert into "message" values (19,'bridge','c1','m19',0,'message','u-Ana','Ana','make it 160',NULL,NULL,0,0,NULL,'2026-10-14T17:19:00.000Z','2026-10-14T17:19:00.000Z',0,'recorded',1,2);
insert into "message" values (20,'bridge','c1','m20',0,'message','u-Robin','Robin','metric cups',NULL,NULL,0,0,NULL,'2026-10-14T17:20:00.000Z','2026-10-14T17:20:00.000Z',0,'recorded',1,1);
insert into "message" values (21,'bridge','c1','m21',0,'message','u-Robin','Robin','good morning all',NULL,NULL,0,0,NULL,'2026-10-14T17:21:00.000Z','2026-10-14T17:21:00.000Z',0,'ignored',1,1);
insert into "outbox" values (1,1,'bridge','c1',NULL,'reply',NULL,'m1','lentil dal D1, made Wed 14 Oct
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

Cool and chill it within 2 h (FSIS).','[[0,10],[65,73],[145,154]]','[[["Undo","undo 1"]]]','{"kind":"batch","batch":{"code":"D1","name":"lentil dal","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":647.2,"net_grams":1840.0,"yield":2.8430160692212607,"expected":null,"pieces":null,"ingredients":[{"text":"500 g red lentils","food":"NDB 16144","batch":null,"packet":null,"grams":500.0,"estimated":false},{"text":"2 tbsp sunflower oil","food":"NDB 04506","batch":null,"packet":null,"grams":27.2,"estimated":true},{"text":"1 medium onion","food":"NDB 11282","batch":null,"packet":null,"grams":110.0,"estimated":true},{"text":"10 g salt","food":"NDB 02047","batch":null,"packet":null,"grams":10.0,"estimated":false}],"totals":{"energy_kcal":2074.448,"protein_g":120.75999999999999,"fat_g":38.16,"saturated_fat_g":4.7428,"carbohydrate_g":325.774,"sugars_g":4.664000000000001,"fibre_g":55.87,"sodium_mg":3915.2000000000003,"potassium_mg":3501.4,"calcium_mg":267.7,"iron_mg":37.214000000000006,"cholesterol_mg":0.0,"water_g":1329.941,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]},"per_100g":{"energy_kcal":112.74173913043477,"protein_g":6.563043478260869,"fat_g":2.0739130434782607,"saturated_fat_g":0.2577608695652174,"carbohydrate_g":17.705108695652175,"sugars_g":0.25347826086956526,"fibre_g":3.0364130434782606,"sodium_mg":212.7826086956522,"potassium_mg":190.29347826086956,"calcium_mg":14.54891304347826,"iron_mg":2.0225000000000004,"cholesterol_mg":0.0,"water_g":72.27940217391304,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]},"allergens":[],"allergens_unknown":[],"lots":[{"place":"freezer","vessel":null,"grams":1840.0,"pieces":null,"use_by":"2027-01-14"}]},"cautions":[{"code":"cool","about":"lentil dal"}]}',1,'2026-10-14T17:01:00.000Z','o1','2026-10-14T17:01:00.000Z',NULL,0);
insert into "outbox" values (2,2,'bridge','c1',NULL,'reply',NULL,'m2','Robin, Wed 14 Oct
140 g lentil dal D1:
158 kcal, protein 9.2 g, fat 2.9 g,
carbs 25 g, fibre 4.3 g, sodium 298 mg
Left: 1700 g','[[24,34],[39,47]]','[[["Undo","undo 2"]]]','{"kind":"portion","plates":[{"member":"Robin","day":"2026-10-14","meal":null,"lines":[{"name":"lentil dal","batch":"D1","food":null,"grams":140.0,"left_grams":1700.0,"left_pieces":null,"nutrients":{"energy_kcal":157.8384347826087,"protein_g":9.188260869565218,"fat_g":2.9034782608695653,"saturated_fat_g":0.36086521739130434,"carbohydrate_g":24.787152173913046,"sugars_g":0.3548695652173914,"fibre_g":4.250978260869565,"sodium_mg":297.8956521739131,"potassium_mg":266.4108695652174,"calcium_mg":20.368478260869566,"iron_mg":2.8315000000000006,"cholesterol_mg":0.0,"water_g":101.19116304347827,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]},"lots":[{"place":"freezer","grams":140.0}]}],"totals":{"energy_kcal":157.8384347826087,"protein_g":9.188260869565218,"fat_g":2.9034782608695653,"saturated_fat_g":0.36086521739130434,"carbohydrate_g":24.787152173913046,"sugars_g":0.3548695652173914,"fibre_g":4.250978260869565,"sodium_mg":297.8956521739131,"potassium_mg":266.4108695652174,"calcium_mg":20.368478260869566,"iron_mg":2.8315000000000006,"cholesterol_mg":0.0,"water_g":101.19116304347827,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]}}]}',1,'2026-10-14T17:02:00.000Z','o2','2026-10-14T17:02:00.000Z',NULL,0);
insert into "outbox" values (3,3,'bridge','c1',NULL,'reply',NULL,'m3','Taken back: "140 dal" (Robin)
Left: lentil dal 1840 g','[]','[[["Put it back","redo 3"]]]','{"kind":"undo","text":"140 dal","member":"Robin","put_back":false,"left":[{"name":"lentil dal","grams":1840.0}]}',0,'2026-10-14T17:03:00.000Z','o3','2026-10-14T17:03:00.000Z',NULL,0);
insert into "outbox" values (4,4,'bridge','c1',NULL,'reply',NULL,'m4','rice R2, made Wed 14 Oct
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

Rice: cool, chill within 1 h (UK FSA).','[[0,4],[59,67],[139,148]]','[[["Undo","undo 4"]]]','{"kind":"batch","batch":{"code":"R2","name":"rice","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":400.0,"net_grams":1150.0,"yield":2.875,"expected":null,"pieces":null,"ingredients":[{"text":"400 g dry white rice","food":"NDB 20046","batch":null,"packet":null,"grams":400.0,"estimated":false}],"totals":{"energy_kcal":1496.0,"protein_g":30.04,"fat_g":4.12,"saturated_fat_g":1.176,"carbohydrate_g":323.56,"sugars_g":1.32,"fibre_g":7.2,"sodium_mg":8.0,"potassium_mg":696.0,"calcium_mg":284.0,"iron_mg":13.32,"cholesterol_mg":0.0,"water_g":789.44,"alcohol_g":0.0},"per_100g":{"energy_kcal":130.08695652173913,"protein_g":2.612173913043478,"fat_g":0.3582608695652174,"saturated_fat_g":0.10226086956521738,"carbohydrate_g":28.135652173913044,"sugars_g":0.11478260869565218,"fibre_g":0.6260869565217392,"sodium_mg":0.6956521739130435,"potassium_mg":60.52173913043478,"calcium_mg":24.695652173913043,"iron_mg":1.1582608695652175,"cholesterol_mg":0.0,"water_g":68.64695652173913,"alcohol_g":0.0},"allergens":[],"allergens_unknown":[],"lots":[{"place":"fridge","vessel":null,"grams":1150.0,"pieces":null,"use_by":"2026-10-15"}]},"cautions":[{"code":"cool_rice","about":"rice"}]}',1,'2026-10-14T17:04:00.000Z','o4','2026-10-14T17:04:00.000Z',NULL,0);
insert into "outbox" values (5,5,'bridge','c1',NULL,'reply',NULL,'m5','Ana, Wed 14 Oct
140 g lentil dal: 158 kcal,
  protein 9.2 g
180 g rice: 234 kcal, protein 4.7 g
~9 g Oil, olive, salad or cooking:
  ~80 kcal, protein 0 g
Total: ~472 kcal, protein ~14 g,
fat ~13 g, carbs ~75 g, fibre ~5.4 g,
sodium ~299 mg
Left: lentil dal 1700 g, rice 970 g','[[162,171]]','[[["Undo","undo 5"]]]','{"kind":"portion","plates":[{"member":"Ana","day":"2026-10-14","meal":null,"lines":[{"name":"lentil dal","batch":"D1","food":null,"grams":140.0,"left_grams":1700.0,"left_pieces":null,"nutrients":{"energy_kcal":157.8384347826087,"protein_g":9.188260869565218,"fat_g":2.9034782608695653,"saturated_fat_g":0.36086521739130434,"carbohydrate_g":24.787152173913046,"sugars_g":0.3548695652173914,"fibre_g":4.250978260869565,"sodium_mg":297.8956521739131,"potassium_mg":266.4108695652174,"calcium_mg":20.368478260869566,"iron_mg":2.8315000000000006,"cholesterol_mg":0.0,"water_g":101.19116304347827,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]},"lots":[{"place":"freezer","grams":140.0}]},{"name":"rice","batch":"R2","food":null,"grams":180.0,"left_grams":970.0,"left_pieces":null,"nutrients":{"energy_kcal":234.15652173913045,"protein_g":4.701913043478261,"fat_g":0.6448695652173914,"saturated_fat_g":0.18406956521739132,"carbohydrate_g":50.64417391304348,"sugars_g":0.20660869565217393,"fibre_g":1.1269565217391306,"sodium_mg":1.2521739130434784,"potassium_mg":108.93913043478261,"calcium_mg":44.45217391304348,"iron_mg":2.0848695652173914,"cholesterol_mg":0.0,"water_g":123.56452173913046,"alcohol_g":0.0},"lots":[{"place":"fridge","grams":180.0}]},{"name":"Oil, olive, salad or cooking","batch":null,"food":"NDB 04053","grams":9.0,"left_grams":null,"left_pieces":null,"nutrients":{"energy_kcal":79.56,"protein_g":0.0,"fat_g":9.0,"saturated_fat_g":1.2427199999999998,"carbohydrate_g":0.0,"sugars_g":0.0,"fibre_g":0.0,"sodium_mg":0.18,"potassium_mg":0.09,"calcium_mg":0.09,"iron_mg":0.05040000000000001,"cholesterol_mg":0.0,"water_g":0.0,"alcohol_g":0.0},"lots":[]}],"totals":{"energy_kcal":471.55495652173914,"protein_g":13.89017391304348,"fat_g":12.548347826086957,"saturated_fat_g":1.7876547826086955,"carbohydrate_g":75.43132608695653,"sugars_g":0.5614782608695653,"fibre_g":5.377934782608696,"sodium_mg":299.3278260869566,"potassium_mg":375.44,"calcium_mg":64.91065217391305,"iron_mg":4.966769565217392,"cholesterol_mg":0.0,"water_g":224.75568478260874,"alcohol_g":0.0,"at_least":["sugars_g","alcohol_g"]}}]}',1,'2026-10-14T17:05:00.000Z','o5','2026-10-14T17:05:00.000Z',NULL,0);
insert into "outbox" values (6,6,'bridge','c1',NULL,'reply',NULL,'m6','tomato sauce S3, made Wed 14 Oct
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
(2 days from making; UK FSA)','[[0,12],[121,129],[209,217]]','[[["Undo","undo 6"]]]','{"kind":"batch","batch":{"code":"S3","name":"tomato sauce","origin":"cooked","state":"estimated","made":"2026-10-14","raw_grams":827.0,"net_grams":824.3,"yield":0.9967351874244256,"expected":null,"pieces":null,"ingredients":[{"text":"800 g canned tomatoes","food":"NDB 11531","batch":null,"packet":null,"grams":800.0,"estimated":false},{"text":"2 tbsp olive oil","food":"NDB 04053","batch":null,"packet":null,"grams":27.0,"estimated":true}],"totals":{"energy_kcal":366.68,"protein_g":6.32,"fat_g":29.0,"saturated_fat_g":4.00016,"carbohydrate_g":27.76,"sugars_g":20.4,"fibre_g":15.2,"sodium_mg":920.54,"potassium_mg":1528.27,"calcium_mg":264.27,"iron_mg":4.7112,"cholesterol_mg":0.0,"water_g":755.3,"alcohol_g":0.0},"per_100g":{"energy_kcal":44.483804440131024,"protein_g":0.7667111488535728,"fat_g":3.5181366007521535,"saturated_fat_g":0.4852796312022322,"carbohydrate_g":3.3677059323061993,"sugars_g":2.474827126046342,"fibre_g":1.8439888390149217,"sodium_mg":111.67536091228921,"potassium_mg":185.40215940798254,"calcium_mg":32.059929637267985,"iron_mg":0.5715394880504671,"cholesterol_mg":0.0,"water_g":91.62926119131384,"alcohol_g":0.0},"allergens":[],"allergens_unknown":[],"lots":[{"place":null,"vessel":null,"grams":null,"pieces":null,"use_by":"2026-10-16"}]}}',1,'2026-10-14T17:06:00.000Z','o6','2026-10-14T17:06:00.000Z',NULL,0);
insert into "outbox" values (7,7,'bridge','c1',NULL,'reply',NULL,'m7','tomato sauce S3, 1 line added
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
(2 days from making; UK FSA)','[[0,12],[118,126],[206,214]]','[[["Undo","undo 7"]]]','{"kind":"batch","batch":{"code":"S3","name":"tomato sauce","origin":"cooked","state":"estimated","made":"2026-10-14","raw_grams":832.0,"net_grams":829.3,"yield":0.9967548076923076,"expected":null,"pieces":null,"ingredients":[{"text":"800 g canned tomatoes","food":"NDB 11531","batch":null,"packet":null,"grams":800.0,"estimated":false},{"text":"2 tbsp olive oil","food":"NDB 04053","batch":null,"packet":null,"grams":27.0,"estimated":true},{"text":"5 g salt","food":"NDB 02047","batch":null,"packet":null,"grams":5.0,"estimated":false}],"totals":{"energy_kcal":366.68,"protein_g":6.32,"fat_g":29.0,"saturated_fat_g":4.00016,"carbohydrate_g":27.76,"sugars_g":20.4,"fibre_g":15.2,"sodium_mg":2858.44,"potassium_mg":1528.67,"calcium_mg":265.46999999999997,"iron_mg":4.7277,"cholesterol_mg":0.0,"water_g":755.31,"alcohol_g":0.0},"per_100g":{"energy_kcal":44.21560352104184,"protein_g":0.762088508380562,"fat_g":3.496925117569034,"saturated_fat_g":0.48235379235499826,"carbohydrate_g":3.3474014228867723,"sugars_g":2.4599059447726996,"fibre_g":1.8328710961051489,"sodium_mg":344.68105631255276,"potassium_mg":184.33256963704332,"calcium_mg":32.01133486072591,"iron_mg":0.5700832027010732,"cholesterol_mg":0.0,"water_g":91.07801760520921,"alcohol_g":0.0},"allergens":[],"allergens_unknown":[],"lots":[{"place":null,"vessel":null,"grams":null,"pieces":null,"use_by":"2026-10-16"}]}}',1,'2026-10-14T17:07:00.000Z','o7','2026-10-14T17:07:00.000Z',NULL,0);
insert into "outbox" values (8,8,'bridge','c1',NULL,'reply',NULL,'m8','tomato sauce S3, 1 line added
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
Answer 1 to 5, or cancel.','[[0,12],[128,136],[224,232]]','[[["Sauce, barbecue","choose 1 0"]],[["Sauce, worcestershire","choose 1 1"]],[["Sauce, horseradish","choose 1 2"]],[["Sauce, teriyaki, ready-to-serve","choose 1 3"]],[["Sauce, plum, ready-to-serve","choose 1 4"]],[["Undo","undo 8"]]]','{"kind":"batch","batch":{"code":"S3","name":"tomato sauce","origin":"cooked","state":"estimated","made":"2026-10-14","raw_grams":982.0,"net_grams":979.3,"yield":0.9972505091649694,"expected":null,"pieces":null,"ingredients":[{"text":"800 g canned tomatoes","food":"NDB 11531","batch":null,"packet":null,"grams":800.0,"estimated":false},{"text":"2 tbsp olive oil","food":"NDB 04053","batch":null,"packet":null,"grams":27.0,"estimated":true},{"text":"5 g salt","food":"NDB 02047","batch":null,"packet":null,"grams":5.0,"estimated":false},{"text":"150 sauce","food":null,"batch":null,"packet":null,"grams":150.0,"estimated":false}],"totals":{"energy_kcal":366.68,"protein_g":6.32,"fat_g":29.0,"saturated_fat_g":4.00016,"carbohydrate_g":27.76,"sugars_g":20.4,"fibre_g":15.2,"sodium_mg":2858.44,"potassium_mg":1528.67,"calcium_mg":265.46999999999997,"iron_mg":4.7277,"cholesterol_mg":0.0,"water_g":755.31,"alcohol_g":0.0,"at_least":["energy_kcal","protein_g","fat_g","saturated_fat_g","carbohydrate_g","sugars_g","fibre_g","sodium_mg","potassium_mg","calcium_mg","iron_mg","cholesterol_mg","water_g","alcohol_g"]},"per_100g":{"energy_kcal":37.44307158174206,"protein_g":0.6453589298478506,"fat_g":2.9612988869600736,"saturated_fat_g":0.40847135709180027,"carbohydrate_g":2.83467783110385,"sugars_g":2.0831205963443273,"fibre_g":1.5521290717859695,"sodium_mg":291.8860410497294,"potassium_mg":156.09823343204332,"calcium_mg":27.1081384662514,"iron_mg":0.4827631982027979,"cholesterol_mg":0.0,"water_g":77.12754007964872,"alcohol_g":0.0,"at_least":["energy_kcal","protein_g","fat_g","saturated_fat_g","carbohydrate_g","sugars_g","fibre_g","sodium_mg","potassium_mg","calcium_mg","iron_mg","cholesterol_mg","water_g","alcohol_g"]},"allergens":[],"allergens_unknown":["sauce"],"lots":[{"place":null,"vessel":null,"grams":null,"pieces":null,"use_by":"2026-10-16"}]},"pending":[{"line":4,"code":"unknown_food","candidates":["NDB 06150","NDB 06971","NDB 27066","NDB 06112","NDB 06151"]}],"also":[{"kind":"ask","about":"which_food","options":["Sauce, barbecue","Sauce, worcestershire","Sauce, horseradish","Sauce, teriyaki, ready-to-serve","Sauce, plum, ready-to-serve"],"problem":"unknown_food"}]}',0,'2026-10-14T17:08:00.000Z','o8','2026-10-14T17:08:00.000Z',NULL,0);
insert into "outbox" values (9,9,'bridge','c1',NULL,'reply',NULL,'m9','tomato sauce S3, weighed in
760 g net, yield 0.77
Per 100 g, at least: 48 kcal,
protein 0.8 g, fat 3.8 g, carbs 3.7 g,
fibre 2 g, sodium 376 mg
Whole, at least: 367 kcal,
protein 6.3 g, fat 29 g, carbs 28 g,
fibre 15 g, sodium 2858 mg

Kept in the fridge: use by 16 Oct 2026
(2 days from making; UK FSA)

Cool and chill it within 2 h (FSIS).','[[0,12],[71,78],[161,169]]','[[["Undo","undo 9"]]]','{"kind":"batch","batch":{"code":"S3","name":"tomato sauce","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":982.0,"net_grams":760.0,"yield":0.7739307535641547,"expected":null,"pieces":null,"ingredients":[{"text":"800 g canned tomatoes","food":"NDB 11531","batch":null,"packet":null,"grams":800.0,"estimated":false},{"text":"2 tbsp olive oil","food":"NDB 04053","batch":null,"packet":null,"grams":27.0,"estimated":true},{"text":"5 g salt","food":"NDB 02047","batch":null,"packet":null,"grams":5.0,"estimated":false},{"text":"150 sauce","food":null,"batch":null,"packet":null,"grams":150.0,"estimated":false}],"totals":{"energy_kcal":366.68,"protein_g":6.32,"fat_g":29.0,"saturated_fat_g":4.00016,"carbohydrate_g":27.76,"sugars_g":20.4,"fibre_g":15.2,"sodium_mg":2858.44,"potassium_mg":1528.67,"calcium_mg":265.46999999999997,"iron_mg":4.7277,"cholesterol_mg":0.0,"water_g":536.01,"alcohol_g":0.0,"at_least":["energy_kcal","protein_g","fat_g","saturated_fat_g","carbohydrate_g","sugars_g","fibre_g","sodium_mg","potassium_mg","calcium_mg","iron_mg","cholesterol_mg","water_g","alcohol_g"]},"per_100g":{"energy_kcal":48.24736842105263,"protein_g":0.8315789473684211,"fat_g":3.81578947368421,"saturated_fat_g":0.5263368421052631,"carbohydrate_g":3.6526315789473682,"sugars_g":2.684210526315789,"fibre_g":1.9999999999999998,"sodium_mg":376.11052631578946,"potassium_mg":201.1407894736842,"calcium_mg":34.93026315789473,"iron_mg":0.6220657894736841,"cholesterol_mg":0.0,"water_g":70.52763157894736,"alcohol_g":0.0,"at_least":["energy_kcal","protein_g","fat_g","saturated_fat_g","carbohydrate_g","sugars_g","fibre_g","sodium_mg","potassium_mg","calcium_mg","iron_mg","cholesterol_mg","water_g","alcohol_g"]},"allergens":[],"allergens_unknown":["sauce"],"lots":[{"place":null,"vessel":null,"grams":760.0,"pieces":null,"use_by":"2026-10-16"}]},"cautions":[{"code":"cool","about":"tomato sauce"}]}',1,'2026-10-14T17:09:00.000Z','o9','2026-10-14T17:09:00.000Z',NULL,0);
insert into "outbox" values (10,10,'bridge','c1',NULL,'reply',NULL,'m10','blue pot: 812 g empty.','[[0,8]]','[]','{"kind":"container","name":"blue pot","tare_grams":812.0,"holds":null}',0,'2026-10-14T17:10:00.000Z','o10','2026-10-14T17:10:00.000Z',NULL,0);
insert into "outbox" values (11,11,'bridge','c1',NULL,'reply',NULL,'m11','blue pot holds lentil dal.','[[0,8]]','[]','{"kind":"container","name":"blue pot","tare_grams":null,"holds":"lentil dal"}',0,'2026-10-14T17:11:00.000Z','o11','2026-10-14T17:11:00.000Z',NULL,0);
insert into "outbox" values (12,12,'bridge','c1',NULL,'reply',NULL,'m12','1 ladle dal is 180 g from now on.','[]','[]','{"kind":"measure","measure":"ladle","name":"dal","grams":180.0}',0,'2026-10-14T17:12:00.000Z','o12','2026-10-14T17:12:00.000Z',NULL,0);
insert into "outbox" values (13,13,'bridge','c1',NULL,'reply',NULL,'m13','Packet kept: miso paste
Per 100 g: 199 kcal, protein 12 g,
fat 6 g, carbs 26 g, fibre 5.4 g,
sodium 3720 mg','[[13,23],[35,43]]','[[["Undo","undo 13"]]]','{"kind":"packet","name":"miso paste","per_100g":{"energy_kcal":199.0,"protein_g":12.0,"fat_g":6.0,"saturated_fat_g":null,"carbohydrate_g":26.0,"sugars_g":null,"fibre_g":5.4,"sodium_mg":3720.0,"potassium_mg":null,"calcium_mg":null,"iron_mg":null,"cholesterol_mg":null,"water_g":null,"alcohol_g":null},"serving_grams":null,"doubt":null}',0,'2026-10-14T17:13:00.000Z','o13','2026-10-14T17:13:00.000Z',NULL,0);
insert into "outbox" values (14,14,'bridge','c1',NULL,'reply',NULL,'m14','Counted: rice R2, 900 g, 70 g less than
  the books','[[9,13]]','[[["Undo","undo 14"]]]','{"kind":"count","lines":[{"name":"rice","batch":"R2","place":null,"grams":900.0,"difference_grams":-70.0,"unweighed_grams":0.0}],"walk":false,"elsewhere":[]}',1,'2026-10-14T17:14:00.000Z','o14','2026-10-14T17:14:00.000Z',NULL,0);
insert into "outbox" values (15,15,'bridge','c1',NULL,'reply',NULL,'m15','Thrown away: 100 g rice R2, 800 g left','[[19,23]]','[[["Undo","undo 15"]]]','{"kind":"waste","lines":[{"name":"rice","batch":"R2","grams":100.0,"left_grams":800.0}],"reason":null}',1,'2026-10-14T17:15:00.000Z','o15','2026-10-14T17:15:00.000Z',NULL,0);
insert into "outbox" values (16,16,'bridge','c1',NULL,'reply',NULL,'m16','chicken C4, made Wed 14 Oct
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
middle (FSIS).','[[0,7],[61,69],[141,150]]','[[["Undo","undo 16"]]]','{"kind":"batch","batch":{"code":"C4","name":"chicken","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":1040.0,"net_grams":700.0,"yield":0.6730769230769231,"expected":null,"pieces":null,"ingredients":[{"text":"1 kg raw chicken thighs","food":"NDB 05096","batch":null,"packet":null,"grams":1000.0,"estimated":false},{"text":"40 g soy sauce","food":"NDB 16123","batch":null,"packet":null,"grams":40.0,"estimated":false}],"totals":{"energy_kcal":1231.2,"protein_g":199.856,"fat_g":41.428000000000004,"saturated_fat_g":10.9992,"carbohydrate_g":1.972,"sugars_g":0.16,"fibre_g":0.32,"sodium_mg":3147.2,"potassium_mg":2594.0,"calcium_mg":83.2,"iron_mg":8.68,"cholesterol_mg":940.0,"water_g":450.6600000000001,"alcohol_g":0.0},"per_100g":{"energy_kcal":175.88571428571427,"protein_g":28.55085714285714,"fat_g":5.918285714285714,"saturated_fat_g":1.5713142857142857,"carbohydrate_g":0.2817142857142857,"sugars_g":0.022857142857142857,"fibre_g":0.045714285714285714,"sodium_mg":449.59999999999997,"potassium_mg":370.57142857142856,"calcium_mg":11.885714285714286,"iron_mg":1.24,"cholesterol_mg":134.28571428571428,"water_g":64.38000000000001,"alcohol_g":0.0},"allergens":["wheat","cereals containing gluten","soybeans"],"allergens_unknown":["soy sauce"],"lots":[{"place":null,"vessel":null,"grams":700.0,"pieces":null,"use_by":"2026-10-16"}]},"cautions":[{"code":"poultry","about":"chicken"}]}',1,'2026-10-14T17:16:00.000Z','o16','2026-10-14T17:16:00.000Z',NULL,0);
insert into "outbox" values (17,17,'bridge','c1',NULL,'reply',NULL,'m17','chicken C4, 35 g poured off
665 g net, yield 0.64
Per 100 g: 138 kcal, protein 30 g,
fat 1 g, carbs 0.3 g, fibre 0 g,
sodium 473 mg
Whole: 916 kcal, protein 200 g,
fat 6.4 g, carbs 2 g, fibre 0.3 g,
sodium 3147 mg

Poured off: 35 g fat
Kept in the fridge: use by 16 Oct 2026
(2 days from making; UK FSA)','[[0,7],[61,69],[139,147]]','[[["Undo","undo 17"]]]','{"kind":"batch","batch":{"code":"C4","name":"chicken","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":1040.0,"net_grams":665.0,"yield":0.6394230769230769,"expected":null,"pieces":null,"ingredients":[{"text":"1 kg raw chicken thighs","food":"NDB 05096","batch":null,"packet":null,"grams":1000.0,"estimated":false},{"text":"40 g soy sauce","food":"NDB 16123","batch":null,"packet":null,"grams":40.0,"estimated":false}],"totals":{"energy_kcal":916.2,"protein_g":199.856,"fat_g":6.428000000000004,"saturated_fat_g":1.706644240610217,"carbohydrate_g":1.972,"sugars_g":0.16,"fibre_g":0.32,"sodium_mg":3147.2,"potassium_mg":2594.0,"calcium_mg":83.2,"iron_mg":8.68,"cholesterol_mg":940.0,"water_g":450.6600000000001,"alcohol_g":0.0},"per_100g":{"energy_kcal":137.77443609022555,"protein_g":30.053533834586464,"fat_g":0.966616541353384,"saturated_fat_g":0.2566382316707093,"carbohydrate_g":0.2965413533834586,"sugars_g":0.024060150375939848,"fibre_g":0.048120300751879695,"sodium_mg":473.26315789473676,"potassium_mg":390.0751879699248,"calcium_mg":12.511278195488721,"iron_mg":1.3052631578947367,"cholesterol_mg":141.35338345864662,"water_g":67.76842105263158,"alcohol_g":0.0},"allergens":["wheat","cereals containing gluten","soybeans"],"allergens_unknown":["soy sauce"],"lots":[{"place":null,"vessel":null,"grams":665.0,"pieces":null,"use_by":"2026-10-16"}]}}',1,'2026-10-14T17:17:00.000Z','o17','2026-10-14T17:17:00.000Z',NULL,0);
insert into "outbox" values (18,18,'bridge','c1',NULL,'reply',NULL,'m18','bake B5, made Wed 14 Oct
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

Rice: cool, chill within 1 h (UK FSA).','[[0,4],[68,75],[157,165]]','[[["Undo","undo 18"]]]','{"kind":"batch","batch":{"code":"B5","name":"bake","origin":"cooked","state":"weighed","made":"2026-10-14","raw_grams":500.0,"net_grams":480.0,"yield":0.96,"expected":null,"pieces":null,"ingredients":[{"text":"300 g dal","food":null,"batch":null,"packet":null,"grams":300.0,"estimated":false},{"text":"200 g rice","food":null,"batch":"R2","packet":null,"grams":200.0,"estimated":false}],"totals":{"energy_kcal":260.17391304347825,"protein_g":5.224347826086956,"fat_g":0.7165217391304348,"saturated_fat_g":0.20452173913043475,"carbohydrate_g":56.27130434782609,"sugars_g":0.22956521739130437,"fibre_g":1.2521739130434784,"sodium_mg":1.391304347826087,"potassium_mg":121.04347826086956,"calcium_mg":49.391304347826086,"iron_mg":2.316521739130435,"cholesterol_mg":0.0,"water_g":117.29391304347826,"alcohol_g":0.0,"at_least":["energy_kcal","protein_g","fat_g","saturated_fat_g","carbohydrate_g","sugars_g","fibre_g","sodium_mg","potassium_mg","calcium_mg","iron_mg","cholesterol_mg","water_g","alcohol_g"]},"per_100g":{"energy_kcal":54.20289855072464,"protein_g":1.0884057971014491,"fat_g":0.1492753623188406,"saturated_fat_g":0.04260869565217391,"carbohydrate_g":11.723188405797103,"sugars_g":0.04782608695652175,"fibre_g":0.26086956521739135,"sodium_mg":0.2898550724637681,"potassium_mg":25.217391304347828,"calcium_mg":10.289855072463768,"iron_mg":0.48260869565217396,"cholesterol_mg":0.0,"water_g":24.43623188405797,"alcohol_g":0.0,"at_least":["energy_kcal","protein_g","fat_g","saturated_fat_g","carbohydrate_g","sugars_g","fibre_g","sodium_mg","potassium_mg","calcium_mg","iron_mg","cholesterol_mg","water_g","alcohol_g"]},"allergens":[],"allergens_unknown":["dal"],"lots":[{"place":null,"vessel":null,"grams":480.0,"pieces":null,"use_by":"2026-10-15"}]},"pending":[{"line":1,"code":"unknown_food","candidates":[]}],"also":[{"kind":"ask","about":"which_food","options":[],"problem":"unknown_food"}],"cautions":[{"code":"cool_rice","about":"bake"}]}',0,'2026-10-14T17:18:00.000Z','o18','2026-10-14T17:18:00.000Z',NULL,0);
insert into "outbox" values (19,19,'bridge','c1',NULL,'reply',NULL,'m19','Thrown away: 160 g rice R2, 540 g left','[[19,23]]','[[["Undo","undo 19"]]]','{"kind":"waste","lines":[{"name":"rice","batch":"R2","grams":160.0,"left_grams":540.0}],"reason":null}',1,'2026-10-14T17:19:00.000Z','o19','2026-10-14T17:19:00.000Z',NULL,0);
insert into "outbox" values (20,20,'bridge','c1',NULL,'reply',NULL,'m20','Cups and spoons: metric (cup 250 ml).','[]','[]','{"kind":"settings","timezone":"Europe/Dublin","measures":"metric","answers":"full","guidance":"uk","board":true,"prep_day":null,"morning":"08:00","quiet":["22:00","07:00"]}',0,'2026-10-14T17:20:00.000Z','o20','2026-10-14T17:20:00.000Z',NULL,0);
insert into "account" values (1,1,'bought',-3378200);
insert into "account" values (1,2,'water',-1360800);
insert into "account" values (1,3,'poured',35000);
insert into "account" values (1,4,'waste',160000);
insert into "account" values (1,5,'difference',70000);
insert into "account" values (1,6,'origin',0);
insert into "account" values (1,7,'unweighed',0);
insert into "account" values (1,100,'lot',1700000);
insert into "account" values (1,101,'plate',0);
insert into "account" values (1,102,'lot',540000);
insert into "account" values (1,103,'plate',329000);
insert into "account" values (1,104,'lot',760000);
insert into "account" values (1,105,'lot',665000);
insert into "account" values (1,106,'lot',480000);
insert into "component" values (1,1,'lentil dal','lentil dal');
insert into "component" values (1,2,'rice','rice');
insert into "component" values (1,3,'tomato sauce','tomato sauce');
insert into "component" values (1,4,'chicken','chicken');
insert into "component" values (1,5,'bake','bake');
insert into "batch" values (1,1,1,'D1','lentil dal','2026-10-14T17:01:00.000Z','2026-10-14',0,NULL);
insert into "batch" values (1,2,2,'R2','rice','2026-10-14T17:04:00.000Z','2026-10-14',0,NULL);
insert into "batch" values (1,3,3,'S3','tomato sauce','2026-10-14T17:06:00.000Z','2026-10-14',0,NULL);
insert into "batch" values (1,4,4,'C4','chicken','2026-10-14T17:16:00.000Z','2026-10-14',0,NULL);
insert into "batch" values (1,5,5,'B5','bake','2026-10-14T17:18:00.000Z','2026-10-14',0,NULL);
insert into "place" values (1,1,'freezer','freezer');
insert into "place" values (1,2,'fridge','fridge');
insert into "container" values (1,1,'blue pot');
insert into "profile" values (1,1,'NDB 16144',NULL,'Lentils, pink or red, raw',358.0,23.91,2.17,0.379,63.1,NULL,10.8,7.0,668.0,48.0,7.39,0.0,7.82,NULL);
insert into "profile" values (1,2,'NDB 04506',NULL,'Oil, sunflower, linoleic, (approx. 65%)',884.0,0.0,100.0,10.3,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0);
insert into "profile" values (1,3,'NDB 11282',NULL,'Onions, raw',40.0,1.1,0.1,0.042,9.34,4.24,1.7,4.0,146.0,23.0,0.21,0.0,89.11,0.0);
insert into "profile" values (1,4,'NDB 02047',NULL,'Salt, table',0.0,0.0,0.0,0.0,0.0,0.0,0.0,38758.0,8.0,24.0,0.33,0.0,0.2,0.0);
insert into "profile" values (1,5,'NDB 20046',NULL,'Rice, white, long-grain, parboiled, enriched, dry',374.0,7.51,1.03,0.294,80.89,0.33,1.8,2.0,174.0,71.0,3.33,0.0,9.86,0.0);
insert into "profile" values (1,6,'NDB 04053',NULL,'Oil, olive, salad or cooking',884.0,0.0,100.0,13.808,0.0,0.0,0.0,2.0,1.0,1.0,0.56,0.0,0.0,0.0);
insert into "profile" values (1,7,'NDB 11531',NULL,'Tomatoes, red, ripe, canned, packed in tomato juice',16.0,0.79,0.25,0.034,3.47,2.55,1.9,115.0,191.0,33.0,0.57,0.0,94.75,0.0);
insert into "profile" values (1,8,NULL,'miso paste','miso paste',199.0,12.0,6.0,NULL,26.0,NULL,5.4,3720.0,NULL,NULL,NULL,NULL,NULL,NULL);
insert into "profile" values (1,9,'NDB 05096',NULL,'Chicken, broilers or fryers, dark meat, thigh, meat only, raw',121.0,19.66,4.12,1.097,0.0,0.0,0.0,95.0,242.0,7.0,0.81,94.0,76.22,0.0);
insert into "profile" values (1,10,'NDB 16123',NULL,'Soy sauce made from soy and wheat (shoyu)',53.0,8.14,0.57,0.073,4.93,0.4,0.8,5493.0,435.0,33.0,1.45,0.0,71.15,0.0);
insert into "lot" values (1,100,1,NULL,1,NULL,NULL);
insert into "lot" values (1,102,2,NULL,2,NULL,NULL);
insert into "lot" values (1,104,3,NULL,NULL,NULL,NULL);
insert into "lot" values (1,105,4,NULL,NULL,NULL,NULL);
insert into "lot" values (1,106,5,NULL,NULL,NULL,NULL);
insert into "plate" values (1,101,1,'2026-10-14',NULL,2,0,'2026-10-14T17:02:00.000Z');
insert into "plate" values (1,103,2,'2026-10-14',NULL,5,0,'2026-10-14T17:05:00.000Z');
insert into "entry_kind" values ('batch');
insert into "entry_kind" values ('count');
insert into "entry_kind" values ('fact');
insert into "entry_kind" values ('ingredient');
insert into "entry_kind" values ('portion');
insert into "entry_kind" values ('pour_off');
insert into "entry_kind" values ('reversal');
insert into "entry_kind" values ('settle');
insert into "entry_kind" values ('waste');
insert into "entry_kind" values ('weigh');
insert into "entry" values (1,1,'batch','2026-10-14T17:01:00.000Z','2026-10-14T17:01:00.000Z',1,1,1,1,100,0,1,NULL,NULL,NULL);
insert into "entry" values (1,2,'ingredient','2026-10-14T17:01:00.000Z','2026-10-14T17:01:00.000Z',1,1,2,1,100,500000,1,1,NULL,NULL);
insert into "entry" values (1,3,'ingredient','2026-10-14T17:01:00.000Z','2026-10-14T17:01:00.000Z',1,1,3,1,100,27200,1,2,NULL,NULL);
insert into "entry" values (1,4,'ingredient','2026-10-14T17:01:00.000Z','2026-10-14T17:01:00.000Z',1,1,4,1,100,110000,1,3,NULL,NULL);
insert into "entry" values (1,5,'ingredient','2026-10-14T17:01:00.000Z','2026-10-14T17:01:00.000Z',1,1,5,1,100,10000,1,4,NULL,NULL);
insert into "entry" values (1,6,'weigh','2026-10-14T17:01:00.000Z','2026-10-14T17:01:00.000Z',1,1,6,2,100,1192800,1,NULL,NULL,NULL);
insert into "entry" values (1,7,'portion','2026-10-14T17:02:00.000Z','2026-10-14T17:02:00.000Z',1,2,1,100,101,140000,1,NULL,NULL,NULL);
insert into "entry" values (1,8,'reversal','2026-10-14T17:02:00.000Z','2026-10-14T17:03:00.000Z',1,3,1,101,100,140000,1,NULL,7,7);
insert into "entry" values (1,9,'batch','2026-10-14T17:04:00.000Z','2026-10-14T17:04:00.000Z',1,4,1,1,102,0,2,NULL,NULL,NULL);
insert into "entry" values (1,10,'ingredient','2026-10-14T17:04:00.000Z','2026-10-14T17:04:00.000Z',1,4,2,1,102,400000,2,5,NULL,NULL);
insert into "entry" values (1,11,'weigh','2026-10-14T17:04:00.000Z','2026-10-14T17:04:00.000Z',1,4,3,2,102,750000,2,NULL,NULL,NULL);
insert into "entry" values (1,12,'portion','2026-10-14T17:05:00.000Z','2026-10-14T17:05:00.000Z',2,5,1,100,103,140000,1,NULL,NULL,NULL);
insert into "entry" values (1,13,'portion','2026-10-14T17:05:00.000Z','2026-10-14T17:05:00.000Z',2,5,2,102,103,180000,2,NULL,NULL,NULL);
insert into "entry" values (1,14,'portion','2026-10-14T17:05:00.000Z','2026-10-14T17:05:00.000Z',2,5,3,1,103,9000,NULL,6,NULL,NULL);
insert into "entry" values (1,15,'batch','2026-10-14T17:06:00.000Z','2026-10-14T17:06:00.000Z',1,6,1,1,104,0,3,NULL,NULL,NULL);
insert into "entry" values (1,16,'ingredient','2026-10-14T17:06:00.000Z','2026-10-14T17:06:00.000Z',1,6,2,1,104,800000,3,7,NULL,NULL);
insert into "entry" values (1,17,'ingredient','2026-10-14T17:06:00.000Z','2026-10-14T17:06:00.000Z',1,6,3,1,104,27000,3,6,NULL,NULL);
insert into "entry" values (1,18,'settle','2026-10-14T17:06:00.000Z','2026-10-14T17:06:00.000Z',1,6,4,104,2,2700,3,NULL,NULL,NULL);
insert into "entry" values (1,19,'ingredient','2026-10-14T17:07:00.000Z','2026-10-14T17:07:00.000Z',2,7,1,1,104,5000,3,4,NULL,NULL);
insert into "entry" values (1,20,'ingredient','2026-10-14T17:08:00.000Z','2026-10-14T17:08:00.000Z',2,8,1,1,104,150000,3,NULL,NULL,NULL);
insert into "entry" values (1,21,'weigh','2026-10-14T17:09:00.000Z','2026-10-14T17:09:00.000Z',1,9,1,104,2,219300,3,NULL,NULL,NULL);
insert into "entry" values (1,22,'fact','2026-10-14T17:10:00.000Z','2026-10-14T17:10:00.000Z',1,10,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,23,'fact','2026-10-14T17:11:00.000Z','2026-10-14T17:11:00.000Z',1,11,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,24,'fact','2026-10-14T17:12:00.000Z','2026-10-14T17:12:00.000Z',2,12,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,25,'fact','2026-10-14T17:13:00.000Z','2026-10-14T17:13:00.000Z',1,13,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "entry" values (1,26,'count','2026-10-14T17:14:00.000Z','2026-10-14T17:14:00.000Z',1,14,1,102,5,70000,2,NULL,NULL,NULL);
insert into "entry" values (1,27,'waste','2026-10-14T17:15:00.000Z','2026-10-14T17:15:00.000Z',2,15,1,102,4,100000,2,NULL,NULL,NULL);
insert into "entry" values (1,28,'batch','2026-10-14T17:16:00.000Z','2026-10-14T17:16:00.000Z',1,16,1,1,105,0,4,NULL,NULL,NULL);
insert into "entry" values (1,29,'ingredient','2026-10-14T17:16:00.000Z','2026-10-14T17:16:00.000Z',1,16,2,1,105,1000000,4,9,NULL,NULL);
insert into "entry" values (1,30,'ingredient','2026-10-14T17:16:00.000Z','2026-10-14T17:16:00.000Z',1,16,3,1,105,40000,4,10,NULL,NULL);
insert into "entry" values (1,31,'weigh','2026-10-14T17:16:00.000Z','2026-10-14T17:16:00.000Z',1,16,4,105,2,340000,4,NULL,NULL,NULL);
insert into "entry" values (1,32,'pour_off','2026-10-14T17:17:00.000Z','2026-10-14T17:17:00.000Z',1,17,1,105,3,35000,4,NULL,NULL,NULL);
insert into "entry" values (1,33,'batch','2026-10-14T17:18:00.000Z','2026-10-14T17:18:00.000Z',1,18,1,1,106,0,5,NULL,NULL,NULL);
insert into "entry" values (1,34,'ingredient','2026-10-14T17:18:00.000Z','2026-10-14T17:18:00.000Z',1,18,2,1,106,300000,5,NULL,NULL,NULL);
insert into "entry" values (1,35,'ingredient','2026-10-14T17:18:00.000Z','2026-10-14T17:18:00.000Z',1,18,3,102,106,200000,5,NULL,NULL,NULL);
insert into "entry" values (1,36,'weigh','2026-10-14T17:18:00.000Z','2026-10-14T17:18:00.000Z',1,18,4,106,2,20000,5,NULL,NULL,NULL);
insert into "entry" values (1,37,'reversal','2026-10-14T17:15:00.000Z','2026-10-14T17:19:00.000Z',2,19,1,4,102,100000,2,NULL,27,27);
insert into "entry" values (1,38,'waste','2026-10-14T17:15:00.000Z','2026-10-14T17:19:00.000Z',2,19,2,102,4,160000,2,NULL,NULL,NULL);
insert into "entry" values (1,39,'fact','2026-10-14T17:20:00.000Z','2026-10-14T17:20:00.000Z',1,20,1,1,6,0,NULL,NULL,NULL,NULL);
insert into "voided" values (1,7);
insert into "voided" values (1,27);
insert into "ingredient" values (1,2,1,'500 g red lentils',NULL,'known',0,'dry=NDB 16070',NULL);
insert into "ingredient" values (1,3,2,'2 tbsp sunflower oil',NULL,'known',1,'kinds=NDB 04584; measure=tbsp',NULL);
insert into "ingredient" values (1,4,3,'1 medium onion',NULL,'known',1,'raw=NDB 11283; measure=medium (2-1/2" dia)',NULL);
insert into "ingredient" values (1,5,4,'10 g salt',NULL,'known',0,NULL,NULL);
insert into "ingredient" values (1,10,1,'400 g dry white rice',NULL,'known',0,'kinds=NDB 20036',NULL);
insert into "ingredient" values (1,16,1,'800 g canned tomatoes',NULL,'known',0,'kinds=NDB 11885,NDB 11533',NULL);
insert into "ingredient" values (1,17,2,'2 tbsp olive oil',NULL,'known',1,'measure=tablespoon',NULL);
insert into "ingredient" values (1,19,3,'5 g salt',NULL,'known',0,NULL,NULL);
insert into "ingredient" values (1,20,4,'150 sauce',NULL,'no_food',0,NULL,NULL);
insert into "ingredient" values (1,29,1,'1 kg raw chicken thighs',NULL,'known',0,'kinds=NDB 05091',NULL);
insert into "ingredient" values (1,30,2,'40 g soy sauce',NULL,'known',0,'kinds=NDB 16424,NDB 16124',NULL);
insert into "ingredient" values (1,34,1,'300 g dal',NULL,'no_food',0,NULL,NULL);
insert into "ingredient" values (1,35,2,'200 g rice',NULL,'known',0,NULL,2);
insert into "weighing" values (1,6,2310000,470000,1840000);
insert into "weighing" values (1,11,1150000,0,1150000);
insert into "weighing" values (1,21,760000,0,760000);
insert into "weighing" values (1,26,900000,0,900000);
insert into "weighing" values (1,31,700000,0,700000);
insert into "weighing" values (1,36,480000,0,480000);
insert into "pour_off" values (1,32,'fat',NULL);
insert into "portion" values (1,7,0);
insert into "portion" values (1,12,0);
insert into "portion" values (1,13,0);
insert into "portion" values (1,14,1);
insert into "packet" values (1,25,'miso paste','miso paste',8,NULL,0);
insert into "measure" values (1,24,'ladle','dal',180000);
insert into "tare" values (1,22,1,812000);
insert into "content" values (1,23,1,1);
insert into "setting" values (1,39,'measures','metric');
insert into "question" values (1,1,2,8,'which_food','150 sauce','[["Sauce, barbecue","S3 line 4: 150 NDB 06150"],["Sauce, worcestershire","S3 line 4: 150 NDB 06971"],["Sauce, horseradish","S3 line 4: 150 NDB 27066"],["Sauce, teriyaki, ready-to-serve","S3 line 4: 150 NDB 06112"],["Sauce, plum, ready-to-serve","S3 line 4: 150 NDB 06151"]]','2026-10-14T17:08:00.000Z',NULL,0,'2026-10-14T17:08:00.000Z','2026-10-14T17:38:00.000Z',NULL);
insert into "question" values (1,2,1,18,'which_food','300 g dal','[]','2026-10-14T17:18:00.000Z',NULL,0,'2026-10-14T17:18:00.000Z','2026-10-14T17:48:00.000Z',NULL);
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
CREATE INDEX entry_root on entry (household_id, root) where root is not null;
CREATE INDEX question_open on question (household_id, member_id) where closed_at is null;
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
