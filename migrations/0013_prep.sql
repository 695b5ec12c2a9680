-- Cooking ahead. All but the list are facts: details of entries, so an undo of the message takes them back.

-- What was told of a thing that is bought. It is known by its words, and by the table's food where that is certain,
-- so that one food under two words is one thing. A look-up table, since another kind of fact is a row.
create table good_fact_kind (
    kind text primary key
) strict, without rowid;
insert into good_fact_kind (kind) values
    ('trimmed'), ('pack'), ('price'), ('holds'), ('always'), ('out');

create table good_fact (
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

-- What was told of dishes, pots and the stove.
create table prep_fact_kind (
    kind text primary key
) strict, without rowid;
insert into prep_fact_kind (kind) values
    ('par'), ('pot'), ('burners'), ('trays'), ('pots_a_day');

create table prep_fact (
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

-- What is wished for days to come: so much of a dish on each of them, or none of it.
create table wish (
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

-- The steps of a dish as they were last told. None: it has no steps from here on.
create table steps_told (
    household_id integer not null,
    entry_id     integer not null,
    component_id integer not null,
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, component_id) references component
) strict, without rowid;

create table step (
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

-- The list that is taken to the shop. Ticks move no food: they are the state of the list, and no entries. The newest
-- list of a household is the one in use, until it is closed.
create table shopping_list (
    household_id integer not null references household,
    list_id      integer not null,
    made_at      text    not null,
    from_day     text,                          -- the days that it is for; null: it was begun by hand
    until_day    text,
    closed_at    text,
    primary key (household_id, list_id),
    check ((from_day is null) = (until_day is null))
) strict, without rowid;

create table shopping_line (
    household_id integer not null,
    list_id      integer not null,
    line_id      integer not null,
    name_key     text    not null,
    words        text    not null,
    food         text,
    need_mg      integer check (need_mg > 0),   -- null: nobody said how much
    by_hand      integer not null default 0 check (by_hand in (0, 1)),
    dropped      integer not null default 0 check (dropped in (0, 1)),
    ticked_at    text,
    ticked_by    integer,
    primary key (household_id, list_id, line_id),
    check ((ticked_at is null) = (ticked_by is null)),
    foreign key (household_id, list_id) references shopping_list,
    foreign key (household_id, ticked_by) references member
) strict, without rowid;

-- Where things stand in the shop, from 0 at the door to 1, as it was walked: learned from the order of ticks.
create table shelf (
    household_id integer not null references household,
    name_key     text    not null,
    place        real    not null check (place between 0 and 1),
    primary key (household_id, name_key)
) strict, without rowid;
