-- What is known is put right in small portions when an answer comes in late or counts otherwise than before. It was learnt
-- anew from all answers, while everybody waited.

-- Each apprentice's first answer for each part, in the order in which they were given, with what is believed after it. First
-- answers alone move abilities and difficulties, so this says what they were at any moment.
create table known_first (
  person_id           uuid                     not null references person (id),
  part                varchar(80)              not null,
  response_id         uuid                     not null,
  answered_at         timestamp with time zone not null,
  -- what it counted when it was taken in
  credit              double precision         not null,
  ability_mean        double precision         not null,
  ability_variance    double precision         not null,
  difficulty_mean     double precision         not null,
  difficulty_variance double precision         not null,
  hold_mean           double precision         not null,
  hold_variance       double precision         not null,
  primary key (person_id, part)
);

create index known_first_in_order on known_first (answered_at, response_id);
create index known_first_of_person on known_first (person_id, answered_at desc, response_id desc);
create index known_first_of_part on known_first (part, answered_at desc, response_id desc);

-- Whose answers are to be read anew: a row for each reason, which is a regrade or has an id of its own. No foreign key, as in
-- known_pending.
create table known_anew (
  id           uuid    not null primary key,
  person_id    uuid    not null,
  -- only after the first answers have been learnt from anew
  after_firsts boolean not null
);

-- the first answers from here on are to be learnt from anew
alter table known_through add column again_from timestamp with time zone;
alter table known_through drop column outdated;
alter table known_through drop column regrades;

-- nobody's first answers are known yet
insert into known_anew (id, person_id, after_firsts)
select id, id, false from person where id in (select person_id from drill_sitting);
update known_through set last_at = (select max(answered_at) from drill_response);
