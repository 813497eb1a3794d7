-- Drills: what an instructor sets, what an apprentice is asked and answers, and what an instructor rules on answers.
-- Items, responses, rulings and regrades are only ever added to.

create table drill_assignment (
  id           uuid                     not null primary key,
  cohort_id    uuid                     not null references cohort (id),
  set_by       uuid                     not null references person (id),
  title        varchar(120)             not null,
  -- JSON: assemblies, kinds, length, whether colloquial terms are accepted
  plan         text                     not null,
  due_on       date                     not null,
  set_at       timestamp with time zone not null,
  withdrawn_at timestamp with time zone
);

create index drill_assignment_of_cohort on drill_assignment (cohort_id);

create table drill_sitting (
  id            uuid                     not null primary key,
  person_id     uuid                     not null references person (id),
  -- null for a self-test
  assignment_id uuid references drill_assignment (id),
  -- 1 for the first time that a person takes an assignment
  attempt       int                      not null,
  title         varchar(120)             not null,
  plan          text                     not null,
  seed          bigint                   not null,
  edition       varchar(80)              not null,
  started_at    timestamp with time zone not null,
  -- two taps on "Start" open one sitting
  constraint drill_sitting_once unique (assignment_id, person_id, attempt)
);

create index drill_sitting_of_person on drill_sitting (person_id);

create table drill_item (
  sitting_id   uuid         not null references drill_sitting (id),
  position     int          not null,
  kind         varchar(20)  not null,
  part         varchar(80)  not null,
  view_id      varchar(80)  not null,
  -- ids of variants, joined by a space
  variants     varchar(400) not null,
  picture_seed bigint       not null,
  primary key (sitting_id, position)
);

create table drill_response (
  id          uuid                     not null primary key,
  sitting_id  uuid                     not null,
  position    int                      not null,
  -- what was typed, and the same in the form in which rulings compare phrases
  typed       varchar(200),
  phrase      varchar(400),
  -- what was pointed at
  pointed_at  varchar(80),
  verdict     varchar(40)              not null,
  credit      double precision         not null,
  reason      text                     not null,
  -- the part that the answer picks out, where it is one and not the one asked for
  taken_for   varchar(80),
  answered_at timestamp with time zone not null,
  -- an answer counts once
  constraint drill_response_once unique (sitting_id, position),
  constraint drill_response_item foreign key (sitting_id, position) references drill_item (sitting_id, position),
  constraint drill_response_credit check (credit >= 0 and credit <= 1)
);

create index drill_response_phrase on drill_response (phrase);

-- "I think that was right"
create table drill_dispute (
  response_id uuid                     not null primary key references drill_response (id),
  raised_at   timestamp with time zone not null
);

create table drill_ruling (
  id        uuid                     not null primary key,
  glossary  varchar(80)              not null,
  edition   varchar(80)              not null,
  part      varchar(80)              not null,
  -- as it was typed, and in the form in which phrases are compared
  typed     varchar(200)             not null,
  phrase    varchar(400)             not null,
  decision  varchar(40)              not null,
  reason    varchar(400)             not null,
  ruled_by  uuid                     not null references person (id),
  ruled_at  timestamp with time zone not null
);

create index drill_ruling_phrase on drill_ruling (part, phrase);

create table drill_ruling_undone (
  ruling_id uuid                     not null primary key references drill_ruling (id),
  undone_by uuid                     not null references person (id),
  undone_at timestamp with time zone not null
);

-- What a response counts as after a ruling, or after its undoing; the one with the highest ordinal holds.
create table drill_regrade (
  id          uuid                     not null primary key,
  response_id uuid                     not null references drill_response (id),
  ordinal     int                      not null,
  ruling_id   uuid                     not null references drill_ruling (id),
  verdict     varchar(40)              not null,
  credit      double precision         not null,
  reason      text                     not null,
  taken_for   varchar(80),
  regraded_at timestamp with time zone not null,
  constraint drill_regrade_order unique (response_id, ordinal),
  constraint drill_regrade_credit check (credit >= 0 and credit <= 1)
);

-- The apprentice has read that an answer counts differently now.
create table drill_regrade_read (
  regrade_id uuid                     not null primary key references drill_regrade (id),
  read_at    timestamp with time zone not null
);
