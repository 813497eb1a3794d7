-- Under which conditions an assignment is taken, and who has more time.

-- times on the school's own clock; without a time it is due at the end of its day
alter table drill_assignment add column opens_at timestamp;
alter table drill_assignment add column due_time time;
alter table drill_assignment add column late_work boolean default true not null;
alter table drill_assignment add column attempts int default 1 not null;
-- which attempt counts: best or last
alter table drill_assignment add column counts varchar(10) default 'best' not null;
-- when the verdicts are shown: each or end
alter table drill_assignment add column feedback varchar(10) default 'each' not null;
-- null for no limit
alter table drill_assignment add column limit_minutes int;

-- The apprentices of the cohort who are to take an assignment; none for the whole cohort.
create table drill_chosen (
  assignment_id uuid not null references drill_assignment (id),
  person_id     uuid not null references person (id),
  primary key (assignment_id, person_id)
);

-- How much of a time limit a person has in every drill, in per cent, and how many minutes on top in one of them.
create table drill_pace (
  person_id uuid                     not null primary key references person (id),
  percent   int                      not null,
  given_by  uuid                     not null references person (id),
  given_at  timestamp with time zone not null,
  constraint drill_pace_range check (percent between 100 and 400)
);

create table drill_extra_time (
  assignment_id uuid                     not null references drill_assignment (id),
  person_id     uuid                     not null references person (id),
  minutes       int                      not null,
  given_by      uuid                     not null references person (id),
  given_at      timestamp with time zone not null,
  primary key (assignment_id, person_id),
  constraint drill_extra_time_range check (minutes between 0 and 240)
);
