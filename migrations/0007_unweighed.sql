-- Somebody took food and did not weigh it. That is an entry without grams, from the lot that it may have been taken
-- from to the account of what is eaten unweighed; the next count of the lot tells how much it was. What a count
-- finds to be missing then goes there, and not to the differences, so that a housemate who never weighs does not
-- look like a scale that is off. Whether it does is derived at every change from the takings and counts that stand.
insert into entry_kind (kind) values ('taking');

create table taking (
    household_id integer not null,
    entry_id     integer not null,
    amount       text    not null,          -- as it was said: 'some', 'a bit'
    taker_id     integer,                   -- who took it, if that is known
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, taker_id) references member
) strict, without rowid;
