-- The log takes more than sign-offs: whatever is said for good, about a person or not.

alter table record_log rename column apprentice_id to subject_id;
alter table record_log alter column subject_id drop not null;
alter table record_log alter column kind set data type varchar(40);
-- inline in the row: as a large object each would be read and written apart from it
alter table record_log alter column body set data type varchar(1000000);
