-- What earlier pots of a dish had come to when a batch was opened: cooked weight over the weight of what went in
-- besides liquids. Until it is weighed, the batch is reckoned by it, so it stands with the batch and not with the dish:
-- a pot that is weighed later does not change what was reckoned before.
create table own_yield (
    household_id integer not null,
    batch_id     integer not null,
    pots         integer not null check (pots > 0),  -- so many told it
    median       real    not null check (median > 0),
    least        real    not null check (least > 0),
    most         real    not null check (most >= least),
    liquid       real    not null check (liquid >= 0), -- liquid over what went in besides, in pots that tell of any
    primary key (household_id, batch_id),
    foreign key (household_id, batch_id) references batch
) strict, without rowid;
