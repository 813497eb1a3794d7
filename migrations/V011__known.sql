-- What is known of each apprentice and part. All of it follows from the answers in drill_response and the regrades in
-- drill_regrade and can be made anew from them; it is kept so that a page need not read every answer ever given.
-- Means and variances are of natural logarithms of days.

create table known_ability (
  person_id uuid             not null primary key references person (id),
  mean      double precision not null,
  variance  double precision not null
);

create table known_difficulty (
  part     varchar(80)      not null primary key,
  mean     double precision not null,
  variance double precision not null
);

create table known_hold (
  person_id uuid                     not null references person (id),
  part      varchar(80)              not null,
  mean      double precision         not null,
  variance  double precision         not null,
  asked     int                      not null,
  last_at   timestamp with time zone not null,
  primary key (person_id, part)
);

-- One row: up to where the answers have been taken in. Whoever takes one in, or makes all anew, holds its lock.
create table known_through (
  id       int     not null primary key,
  -- all is to be made anew: an answer came out of its order, or nothing was ever taken in
  outdated boolean not null,
  -- the time of the last answer that was taken in
  last_at  timestamp with time zone,
  -- how many regrades there were when all was last made anew
  regrades int     not null
);

insert into known_through (id, outdated, regrades) values (1, true, 0);
