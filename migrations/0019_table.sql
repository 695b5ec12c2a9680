-- Who is at the table, and what they avoid. What a person is called, whether they are here and who keeps the household are
-- facts about the row of the member, of which the newest that stands holds. A guest's row alone seats nobody any more (it is
-- written as left, and a fact says that they are here), so that an undo takes a guest away again.
insert into personal_kind (kind) values ('removed');    -- taken off the table by whoever keeps the household

-- Those whom facts took off the table. Their rows stay, since history does.
create view away_from_table as
select p.household_id, p.about_id as member_id
from personal p
where (p.kind = 'removed' or p.kind = 'here' and p.chosen = 0)
  and not exists (select 1 from voided v where v.household_id = p.household_id and v.entry_id = p.entry_id)
  and not exists (select 1 from personal later
                  where later.household_id = p.household_id and later.about_id = p.about_id
                    and later.kind = 'here' and later.chosen = 1 and later.entry_id > p.entry_id
                    and not exists (select 1 from voided v
                                    where v.household_id = later.household_id and v.entry_id = later.entry_id));

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
