-- Each answer takes a number for its note of new evidence and one for its line in the trail. The embedded database writes a
-- counter to its file whenever it has given out those that it took in advance, 32 in general, which cost more than the
-- rows. The numbers tell rows apart and no more: where several connections take them in advance, they say nothing of the
-- order.

-- [jooq ignore start]
alter table new_evidence alter column id set cache 1000;
alter table audit_entry alter column id set cache 1000;
-- [jooq ignore stop]
