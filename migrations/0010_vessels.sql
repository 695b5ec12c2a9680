-- What a lot stands in: a container that the household knows by name, or a bag or tub without one whose empty weight
-- is its own. Neither: it was taken out of what it stood in. The newest fact about a lot holds, so undoing one brings
-- back what was before. It was told of a batch alone, which cannot say of two bags which of them stands in the jar:
-- what is known is carried over to the lot that the batch was opened with.
create table vessel (
    household_id integer not null,
    entry_id     integer not null,
    lot_id       integer not null,
    container_id integer,
    tare_mg      integer check (tare_mg >= 0),
    primary key (household_id, entry_id),
    check (container_id is null or tare_mg is null),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, lot_id) references lot,
    foreign key (household_id, container_id) references container
) strict, without rowid;
create index vessel_lot on vessel (household_id, lot_id);

insert into vessel (household_id, entry_id, lot_id, container_id)
select c.household_id, c.entry_id,
       (select min(l.account_id) from lot l where l.household_id = c.household_id and l.batch_id = c.batch_id),
       c.container_id
from content c;
drop table content;
