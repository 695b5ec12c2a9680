-- Lots live: a part of one goes to another place, is frozen, is thawed. A lot never changes its place once food was
-- moved; every move opens a lot, so that an undo gives everything back by entries alone. What a lot has been through
-- before is what the lot that it came from has been through: its dates are derived, and follow when the household
-- chooses another region of guidance or days of its own.
alter table lot add column came_from integer;    -- the account of the lot that it was moved out of
alter table lot add column since text;           -- the household's day on which it came there; null: as the batch was made
insert into entry_kind (kind) values ('move');
