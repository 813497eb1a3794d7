-- Answers of many people at once wait for nobody. Both tables below were one row that every answer locked.

-- A ruling counts all of these rows up, an answer holds one of them: answers wait for rulings, and seldom for each other.
insert into drill_rulings_made (id, made) select id + 1, made from drill_rulings_made;
insert into drill_rulings_made (id, made) select id + 2, made from drill_rulings_made;
insert into drill_rulings_made (id, made) select id + 4, made from drill_rulings_made;
insert into drill_rulings_made (id, made) select id + 8, made from drill_rulings_made;

-- Answers that are not yet taken into what is known. Whoever answers adds a row in the same transaction; whoever takes
-- answers in removes it. No foreign key: checking one would lock rows of others.
create table known_pending (
  response_id uuid                     not null primary key,
  answered_at timestamp with time zone not null
);

create index known_pending_in_order on known_pending (answered_at);
