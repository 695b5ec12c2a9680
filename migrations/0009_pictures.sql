-- A picture is kept as what stands on it (JSON) and drawn when it is sent: a page of labels takes a while, and
-- nothing that waits to be booked should wait for it. The text beside it is the body, as with any answer.
alter table outbox add column picture text;
-- Which of the last answers in a chat cautioned of anything is asked with every message; without an index the
-- answers of all other chats would be walked.
create index outbox_chat on outbox (channel, chat, outbox_id);
