-- The shopping list is made of facts like everything else that people say: each thing that is put on it, each tick and
-- each end is an entry, so that an undo takes back what was said last and not the plate before it. What was kept for it
-- as a state of its own was never filled.
drop table shopping_line;
drop table shopping_list;
drop table shelf;

create table list_fact_kind (
    kind text primary key
) strict, without rowid;
insert into list_fact_kind (kind) values
    ('begun'), ('wanted'), ('ticked'), ('planned'), ('closed');

-- A list is known by the entry that began it. A tick is of a thing by its words and its food, as a thing that is put on
-- twice is one line. Where things stand in the shop is read off the ticks of the last lists.
create table list_fact (
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

create index list_fact_of_list on list_fact (household_id, list_id, entry_id);
create index list_begun on list_fact (household_id, entry_id) where kind = 'begun';
