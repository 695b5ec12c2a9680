-- What people cannot have or leave out: a detail of a fact, so an undo takes it back. The newest that stands of a person and
-- of what it is of holds.
create table avoidance (
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
