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

-- Why food was thrown away, in the words of whoever did; and what a batch cost, so that waste has a price. Money is
-- an integer count of hundredths, whatever the currency, which is kept as it was typed: nothing is converted.
create table waste (
    household_id integer not null,
    entry_id     integer not null,
    reason       text    not null,
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;

create table price (
    household_id integer not null,
    entry_id     integer not null,
    hundredths   integer not null check (hundredths >= 0),
    currency     text    not null,          -- '€', 'euro', or '' where none was said
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;

-- A report looks back over months without walking the journal.
create index entry_report on entry (household_id, occurred_at, batch_id) where kind in ('count', 'waste');
