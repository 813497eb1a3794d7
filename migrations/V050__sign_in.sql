-- How a session was opened and on what, so that its owner can tell them apart and close one.
alter table web_session add column opened_by varchar(20) default 'password' not null;
alter table web_session add column device varchar(120) default '' not null;
-- without use it closes after so many seconds
alter table web_session add column idle_seconds int default 43200 not null;
-- what is still asked for before the session lets anyone in
alter table web_session add column awaits varchar(20);
alter table web_session add column tablet_id uuid;
create index web_session_person on web_session (person_id);

-- A browser in which a person has signed in before. Guesses made elsewhere do not hold it up.
create table known_browser (
  token_hash varchar(64)              not null,
  person_id  uuid                     not null references person (id),
  failures   int                      default 0 not null,
  used_at    timestamp with time zone not null,
  primary key (token_hash, person_id)
);
create index known_browser_person on known_browser (person_id);

-- How many wrong guesses are remembered about something: it empties by one every few minutes.
create table guess_level (
  subject    varchar(64)              not null primary key,
  empties_at timestamp with time zone not null
);
create index guess_level_empties on guess_level (empties_at);

-- A sum that a browser works out before the next guess; each counts once.
create table sign_in_puzzle (
  id         varchar(64)              not null primary key,
  bits       int                      not null,
  expires_at timestamp with time zone not null
);

-- Who asked for a new password and has not been given one.
create table password_wanted (
  person_id uuid                     not null primary key references person (id),
  asked_at  timestamp with time zone not null
);

-- One-time codes: the secret shared with the person's phone.
create table code_secret (
  person_id    uuid                     not null primary key references person (id),
  secret       varchar(64)              not null,
  confirmed_at timestamp with time zone,
  -- the last step of time whose code was taken: none counts twice
  last_step    bigint                   default 0 not null
);

create table recovery_code (
  person_id uuid                     not null references person (id),
  -- its first characters, by which the row is found; the hash is of the whole code
  starts    varchar(4)               not null,
  code_hash varchar(255)             not null,
  made_at   timestamp with time zone not null,
  used_at   timestamp with time zone,
  primary key (person_id, starts)
);

-- A device that lies on a bench and is used by many.
create table tablet (
  id         uuid                     not null primary key,
  title      varchar(80)              not null,
  token_hash varchar(64)              not null,
  made_by    uuid                     not null references person (id),
  made_at    timestamp with time zone not null,
  closed_at  timestamp with time zone,
  constraint tablet_token_once unique (token_hash)
);

-- Who has signed in on a tablet in full and may come back there by PIN.
create table tablet_person (
  tablet_id        uuid not null references tablet (id),
  person_id        uuid not null references person (id),
  -- wrong PINs there since the last right one; full sign-in starts the count afresh
  pin_failures     int  default 0 not null,
  pin_locked_until timestamp with time zone,
  -- where they were when the tablet was locked
  last_path        varchar(400),
  primary key (tablet_id, person_id)
);
