-- So much of a thing that is bought is to be at home; null: no more of it than is used. A fact of its own table, since the
-- newest may say that there is none, which `good_fact` has no room for.
create table home_level (
    household_id integer not null,
    entry_id     integer not null,
    name_key     text    not null,              -- its words, folded
    words        text    not null,              -- its words as they were typed
    food         text,                          -- the table's number of it
    mass_mg      integer check (mass_mg > 0),
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
