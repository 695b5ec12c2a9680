-- The board: what stands in the kitchen, as one message of each chat of a household, edited in place. What it says is
-- derived from the books; here is only where it hangs. Its first message and every edit of it are rows of the outbox,
-- so what it says now is what the newest of them says, and a crash repeats an edit and loses none.
create table board (
    channel      text    not null,
    chat         text    not null,          -- the channel's own id
    household_id integer not null references household,
    outbox_id    integer not null unique references outbox,  -- the message that was hung up
    away         integer not null default 0 check (away in (0, 1)), -- taken down, as the household wished
    pin_refused  integer not null default 0 check (pin_refused in (0, 1)), -- it was said that the bot may not pin
    primary key (channel, chat)
) strict, without rowid;
