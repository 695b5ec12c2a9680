-- What people choose for themselves: targets, whether numbers are told to them, where their totals are told; what they are
-- called, who keeps the household, and who has left the table.

-- A look-up table rather than a check, as everywhere: a new kind is a row.
create table personal_kind (kind text primary key) strict, without rowid;
insert into personal_kind (kind) values ('target'), ('numbers'), ('private'), ('name'), ('nickname'), ('keeper'), ('here');

-- A detail of a fact, so an undo of the message takes it back. The newest of a kind that stands holds, over what the row of
-- the member says; nicknames add up. It says whose it is by itself, since others may tell it of a guest or a child.
create table personal (
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
