-- Editions of the programme, which cohort is on which, time at the bench, and prior learning. All of it is only ever
-- added to: a correction or a withdrawal is a new row that points at the one whose place it takes.

create table programme_edition (
  edition  varchar(80)              not null primary key,
  -- the programme as it was written
  text     text                     not null,
  -- JSON: the titles of the tasks and the terms of the assemblies that it names, by id
  titles   text                     not null,
  -- when it was first in use here
  kept_at  timestamp with time zone not null
);

-- A cohort stays on the edition that it began with unless it was moved; its latest move counts.
create table cohort_move (
  id        uuid                     not null primary key,
  cohort_id uuid                     not null references cohort (id),
  ordinal   int                      not null,
  edition   varchar(80)              not null references programme_edition (edition),
  reason    varchar(1000)            not null,
  moved_by  uuid                     not null references person (id),
  moved_at  timestamp with time zone not null,
  constraint cohort_move_in_order unique (cohort_id, ordinal)
);

create table bench_hours (
  id            uuid                     not null primary key,
  apprentice_id uuid                     not null references person (id),
  worked_on     date                     not null,
  minutes       int                      not null,
  what          varchar(200)             not null,
  entered_by    uuid                     not null references person (id),
  entered_at    timestamp with time zone not null,
  -- the entry whose place it takes: at most one for each
  corrects      uuid references bench_hours (id),
  reason        varchar(1000)            not null,
  constraint bench_hours_corrected_once unique (corrects)
);

create index bench_hours_of_apprentice on bench_hours (apprentice_id, entered_at);

create table equivalence (
  id            uuid                     not null primary key,
  apprentice_id uuid                     not null references person (id),
  competency    varchar(80)              not null,
  reason        varchar(1000)            not null,
  granted_by    uuid                     not null references person (id),
  granted_at    timestamp with time zone not null,
  -- the last day on which it counts
  until_on      date
);

create index equivalence_of_apprentice on equivalence (apprentice_id, granted_at);

create table equivalence_withdrawal (
  equivalence_id uuid                     not null primary key references equivalence (id),
  reason         varchar(1000)            not null,
  withdrawn_by   uuid                     not null references person (id),
  withdrawn_at   timestamp with time zone not null
);
