-- Persons, cohorts and sign-in. Times are UTC instants; a due date is a date in the school's zone.

create table person (
  id            uuid                     not null primary key,
  sign_in_name  varchar(80)              not null,
  full_name     varchar(120)             not null,
  role          varchar(20)              not null,
  password_hash varchar(255),
  pin_hash      varchar(255),
  -- wrong PINs since the last right one, and until when none is taken
  pin_failures  int                      default 0 not null,
  pin_locked_until timestamp with time zone,
  created_at    timestamp with time zone not null,
  left_on       date,
  constraint person_sign_in_name_once unique (sign_in_name),
  constraint person_role_known check (role in ('apprentice', 'instructor', 'coordinator'))
);

create table cohort (
  id        uuid         not null primary key,
  title     varchar(120) not null,
  edition   varchar(80)  not null,
  starts_on date         not null,
  ends_on   date         not null,
  constraint cohort_title_once unique (title)
);

create table cohort_member (
  cohort_id uuid not null references cohort (id),
  person_id uuid not null references person (id),
  joined_on date not null,
  left_on   date,
  primary key (cohort_id, person_id)
);

-- Only a hash of the token is kept: a reader of the table cannot take over a session.
create table web_session (
  token_hash   varchar(64)              not null primary key,
  person_id    uuid                     not null references person (id),
  csrf_token   varchar(64)              not null,
  created_at   timestamp with time zone not null,
  last_seen_at timestamp with time zone not null,
  expires_at   timestamp with time zone not null
);

create table one_time_link (
  token_hash varchar(64)              not null primary key,
  purpose    varchar(40)              not null,
  -- whose it is, where the account exists already
  person_id  uuid references person (id),
  created_at timestamp with time zone not null,
  expires_at timestamp with time zone not null,
  used_at    timestamp with time zone
);
