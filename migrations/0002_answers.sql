-- Which message answered a question, and the entries that the answer wrote: from `first_entry` up to, not
-- including, `after_entry`. They are credited to the message that raised the question, since an answer is
-- handled as if that had said it in the first place; when the answer itself is edited, the books have to
-- know what it wrote.
alter table question add column answered_by integer references message;
alter table question add column first_entry integer;
alter table question add column after_entry integer;
create index question_answered on question (answered_by) where answered_by is not null;
