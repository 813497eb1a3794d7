-- Grading at the bench: who waits to be checked, who may sign what, photos, second signatures and blind second grades.

alter table grade_draft add column group_id uuid;
-- the sign-off whose work is graded once more, without seeing its grade
alter table grade_draft add column blind_of uuid;

-- An apprentice says that a piece of work is ready to be checked.
create table check_request (
  id            uuid                     not null primary key,
  apprentice_id uuid                     not null references person (id),
  task_id       varchar(80)              not null,
  tag           varchar(40)              not null,
  asked_at      timestamp with time zone not null,
  withdrawn_at  timestamp with time zone,
  -- the draft in which it is graded; if that is put aside, the request waits again in its old place
  draft_id      uuid references grade_draft (id)
);

create index check_request_of_apprentice on check_request (apprentice_id, asked_at);

-- What an instructor may sign: the latest row counts; without a row, everything.
create table authority (
  id            uuid                     not null primary key,
  instructor_id uuid                     not null references person (id),
  -- JSON: the highest level of task by area
  areas         text                     not null,
  set_by        uuid                     not null references person (id),
  set_at        timestamp with time zone not null
);

create index authority_of_instructor on authority (instructor_id, set_at);

-- A picture of the work as it was encoded anew by us; a signed record names it by its hash.
create table photo (
  id       uuid                     not null primary key,
  draft_id uuid                     not null references grade_draft (id),
  sha256   varchar(64)              not null,
  width    int                      not null,
  height   int                      not null,
  jpeg     bytea                    not null,
  added_at timestamp with time zone not null,
  constraint photo_once_in_draft unique (draft_id, sha256)
);

create index photo_by_hash on photo (sha256);

-- Records whose task asks for a second signature, and the record by which it was given.
create table second_signature (
  record_id     uuid                     not null primary key,
  apprentice_id uuid                     not null references person (id),
  first_signer  uuid                     not null references person (id),
  asked_at      timestamp with time zone not null,
  given_by      uuid references person (id),
  given_record  uuid
);

-- The same work graded by another instructor who had not seen the first grade. It proves nothing about the
-- apprentice, so that it is in no log; it tells how well instructors agree.
create table second_grade (
  id        uuid                     not null primary key,
  -- the sign-off of the work
  record_id uuid                     not null,
  grader_id uuid                     not null references person (id),
  draft_id  uuid                     not null references grade_draft (id),
  graded_at timestamp with time zone not null,
  -- JSON, like the grade within a record
  grade     text                     not null,
  constraint second_grade_once_by_grader unique (record_id, grader_id)
);
