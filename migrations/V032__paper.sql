-- Worksheets on paper: what was printed, what is being entered from it, and who entered what.
-- Worksheets, entries and corrections are only ever added to; taps are a draft and go when they are undone.

create table paper_sheet (
  id            uuid                     not null primary key,
  cohort_id     uuid                     not null references cohort (id),
  -- the drill that it asks what is asked in, if it was made from one
  assignment_id uuid references drill_assignment (id),
  title         varchar(120)             not null,
  school        varchar(120)             not null,
  plan          text                     not null,
  seed          bigint                   not null,
  edition       varchar(80)              not null,
  made_by       uuid                     not null references person (id),
  made_at       timestamp with time zone not null
);

create index paper_sheet_of_cohort on paper_sheet (cohort_id);

-- What stands on each version, kept and not drawn anew, so that the key always fits the paper that was handed out.
create table paper_item (
  sheet_id uuid       not null references paper_sheet (id),
  version  varchar(1) not null,
  number   int        not null,
  -- JSON
  item     text       not null,
  primary key (sheet_id, version, number)
);

-- One apprentice's paper, from the first tap on.
create table paper_script (
  sheet_id   uuid                     not null references paper_sheet (id),
  person_id  uuid                     not null references person (id),
  version    varchar(1)               not null,
  -- once it is entered: the sitting that it became, by whom and when
  sitting_id uuid references drill_sitting (id),
  entered_by uuid references person (id),
  entered_at timestamp with time zone,
  primary key (sheet_id, person_id),
  constraint paper_script_once unique (sitting_id)
);

-- What was tapped or typed; the latest step on a number holds. Several numbers can change in one step.
create table paper_tap (
  sheet_id  uuid                     not null,
  person_id uuid                     not null,
  step      int                      not null,
  number    int                      not null,
  mark      varchar(10)              not null,
  written   varchar(200)             not null,
  tapped_by uuid                     not null references person (id),
  tapped_at timestamp with time zone not null,
  primary key (sheet_id, person_id, step, number),
  constraint paper_tap_script foreign key (sheet_id, person_id) references paper_script (sheet_id, person_id)
);

-- That an answer was entered from paper, how, and by whom.
create table paper_entry (
  response_id uuid         not null primary key references drill_response (id),
  mark        varchar(10)  not null,
  written     varchar(200) not null,
  entered_by  uuid         not null references person (id)
);

-- A regrade follows from a ruling, or from the correction of what was entered from paper.
alter table drill_regrade alter column ruling_id drop not null;

create table paper_correction (
  regrade_id   uuid         not null primary key references drill_regrade (id),
  mark         varchar(10)  not null,
  written      varchar(200) not null,
  corrected_by uuid         not null references person (id)
);
