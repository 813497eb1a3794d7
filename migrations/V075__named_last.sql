-- Competencies rest on the last answer for each part of whoever was asked to name it. All answers of everybody were read to
-- find those, whenever one of them had given another.

-- Each person's last answer that named a part, in the order of time and then of its id. What it counts may be regraded since.
create table named_last (
  person_id   uuid                     not null references person (id),
  part        varchar(80)              not null,
  response_id uuid                     not null,
  answered_at timestamp with time zone not null,
  -- what it counted when it was given
  credit      double precision         not null,
  primary key (person_id, part)
);

-- Who has answers that are not looked through yet: their rows above may be missing or too old.
create table named_unread (
  person_id uuid not null primary key references person (id)
);

insert into named_unread (person_id) select id from person where id in (select person_id from drill_sitting);
