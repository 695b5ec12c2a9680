-- Time: what somebody asked to be told, and what is said of the household's own accord.

-- A reminder, as it was asked for. It is a detail of a fact, so an undo of the message takes it back, a redo brings it
-- back, and what is put off is taken back and asked for anew.
create table reminder_kind (kind text primary key) strict, without rowid;
insert into reminder_kind (kind) values ('timer'), ('once');

create table reminder (
    household_id integer not null,
    entry_id     integer not null,
    kind         text    not null references reminder_kind,
    number       integer not null,          -- what it is called by: the least that was free
    words        text    not null,          -- what for, as typed; may be empty
    due_at       text    not null,          -- UTC, as it was asked
    wall         text,                      -- 'YYYY-MM-DDTHH:MM' of the household, where an hour was told: another zone
                                            -- moves it; null: a span, which nothing moves
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry
) strict, without rowid;

-- What became of it, and where it is said. The only row of it that changes, apart from it since details never do.
create table reminder_state (
    household_id integer not null,
    entry_id     integer not null,
    channel      text    not null,
    chat         text    not null,          -- the channel's own id: where it was asked for
    topic        text,
    due_at       text    not null,          -- moves with the household's zone
    state        text    not null check (state in ('waiting', 'said', 'dropped', 'void')),
    changed_at   text    not null,
    outbox_id    integer references outbox, -- what said it
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references reminder
) strict, without rowid;
create index reminder_due on reminder_state (channel, due_at) where state = 'waiting';
create index reminder_waiting on reminder_state (household_id) where state = 'waiting';
create index reminder_said on reminder_state (household_id, changed_at) where state = 'said';

-- What is taken back does not wait, and what is put back waits again, unless it has been said.
create trigger reminder_is_taken_back after insert on voided
begin
    update reminder_state set state = 'void'
    where household_id = new.household_id and entry_id = new.entry_id and state = 'waiting';
end;
create trigger reminder_is_put_back after delete on voided
begin
    update reminder_state set state = 'waiting'
    where household_id = old.household_id and entry_id = old.entry_id and state = 'void';
end;

-- Notes that a household is told of the bot's own accord: each at its hour, and of a hot pot that it is time to put away.
create table note_kind (kind text primary key) strict, without rowid;
insert into note_kind (kind) values ('prep'), ('morning'), ('evening'), ('put_away');

-- What was said, or looked at and found to need no words: a row for each time that a note was owed. Its key is what makes
-- it impossible to say one twice, and its rows account for every one of a year.
create table note_said (
    channel      text    not null,
    chat         text    not null,
    kind         text    not null references note_kind,
    occurrence   text    not null,          -- the local date that it was for; of a pot its code
    household_id integer not null references household,
    due_at       text    not null,
    looked_at    text    not null,
    came_to      text    not null check (came_to in ('said', 'nothing', 'merged', 'away')), -- merged: a later one of its kind spoke for it
    outbox_id    integer references outbox,
    primary key (channel, chat, kind, occurrence)
) strict, without rowid;

-- When the notes of a chat have to be looked at next. A cache over settings, zone and `note_said`, so that one indexed
-- look finds the next of a thousand households; a test compares it with what it is derived from.
create table schedule (
    channel      text    not null,
    chat         text    not null,
    household_id integer not null references household,
    since        text    not null,          -- nothing due before it is owed: the chat was let in then
    next_at      text,                      -- null: every note is off
    primary key (channel, chat)
) strict, without rowid;
create index schedule_next on schedule (channel, next_at) where next_at is not null;
create index schedule_of on schedule (household_id);

-- Households of before are owed nothing of before.
insert into schedule (channel, chat, household_id, since, next_at)
select channel, chat, household_id, strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), strftime('%Y-%m-%dT%H:%M:%fZ', 'now')
from chat where moved_to is null;

-- Days on which somebody does not eat here. A detail of a fact.
create table absence (
    household_id integer not null,
    entry_id     integer not null,
    absent_id    integer,                   -- the member; null: all
    from_day     text    not null,
    until_day    text    not null check (until_day >= from_day),
    primary key (household_id, entry_id),
    foreign key (household_id, entry_id) references entry,
    foreign key (household_id, absent_id) references member
) strict, without rowid;
