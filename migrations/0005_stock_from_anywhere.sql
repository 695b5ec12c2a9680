-- Whatever stands in stock is a batch with lots, so that codes, draws, counts, waste, moves and dates work for all
-- of it. Where it came from is told here. A look-up table, since a new origin is a row.
create table batch_origin (
    origin text primary key
) strict, without rowid;
insert into batch_origin (origin) values
    ('cooked'), ('bought'), ('before'), ('leftover'), ('boxed'), ('topped_up');
alter table batch add column origin text references batch_origin;   -- null: cooked

-- How many pieces a batch is, or was when it was counted: what one weighs is its net weight over that. What is left
-- in pieces follows from the grams that are left, so that there is one count to keep true and not two.
create table pieces (
    household_id integer not null,
    entry_id     integer not null,
    count        integer not null check (count > 0),
    of_mg        integer check (of_mg > 0), -- what was counted; null: the whole of the batch
    word         text,                      -- what one is called, in the singular; null: by the batch's own name
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;

-- A date that was told of a lot, as printed on a packet. Where it comes from and what it means for the lots that were
-- moved out of it is reckoned with every answer; only what was said is kept, and it can be said anew.
create table told_date (
    household_id integer not null,
    entry_id     integer not null,
    lot_id       integer not null,
    use_by       text    not null,
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, lot_id) references lot
) strict, without rowid;

-- How long the household itself keeps a component. Null: as the chart says, from here on.
create table own_days (
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

-- What kind of place a name stands for, where the name does not tell: the household was asked.
create table place_kind (
    household_id integer not null,
    entry_id     integer not null,
    place_id     integer not null,
    kind         text    not null check (kind in ('fridge', 'freezer', 'counter')),
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, place_id) references place
) strict, without rowid;

-- Whether anybody knows when it was made. What stood there before the books may be of any age: nothing is reckoned
-- from the day on which it was written down.
alter table batch add column dated integer not null default 1 check (dated in (0, 1));
