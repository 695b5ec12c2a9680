-- Whatever stands in stock is a batch with lots, so that codes, draws, counts, waste, moves and dates work for all
-- of it. Where it came from is told here. A look-up table, since a new origin is a row.
create table batch_origin (
    origin text primary key
) strict, without rowid;
insert into batch_origin (origin) values
    ('cooked'), ('bought'), ('before'), ('leftover'), ('boxed'), ('topped_up');
alter table batch add column origin text references batch_origin;   -- null: cooked

-- How many pieces a batch is, or was when it was counted: what one weighs is its net weight over that. What is left
-- in pieces follows from the grams that are left, so that there is one count to keep true and not two.
create table pieces (
    household_id integer not null,
    entry_id     integer not null,
    count        integer not null check (count > 0),
    of_mg        integer check (of_mg > 0), -- what was counted; null: the whole of the batch
    word         text,                      -- what one is called, in the singular; null: by the batch's own name
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;
