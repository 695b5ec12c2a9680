-- A picture is kept as what stands on it (JSON) and drawn when it is sent: a page of labels takes a while, and
-- nothing that waits to be booked should wait for it. The text beside it is the body, as with any answer.
alter table outbox add column picture text;
