-- The channel's own ids of all the messages that now show an answer, in order (JSON), where one id does
-- not say it: a long answer is split over several, and one that could not be edited was said anew.
alter table outbox add column parts text;
