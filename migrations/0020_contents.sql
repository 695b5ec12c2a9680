-- What is in a thing that is bought, as its packet tells it: a detail of a fact, so an undo takes it back. A list of all its
-- ingredients stands in the place of what was told before; a part of them is told on top.
create table contents (
    household_id integer not null,
    entry_id     integer not null,
    name_key     text    not null,              -- the thing, folded: 'butter biscuit'
    words        text    not null,              -- the thing as it was typed
    things       text    not null check (things <> ''),     -- one a line, as they were typed
    whole        integer not null check (whole in (0, 1)),  -- nothing else is in it
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
