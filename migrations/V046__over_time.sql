-- How cohorts come along week by week, and what is counted over time.

-- How a cohort stood at the end of a week. All of it follows from what was recorded by then and can be made anew; it is
-- kept so that a page need not judge every week again.
create table cohort_week (
  cohort_id      uuid             not null references cohort (id),
  -- the last day of the week
  ends_on        date             not null,
  -- a hash of what else it follows from: the edition, who was there, and how names are counted
  basis          varchar(64)      not null,
  apprentices    int              not null,
  competencies   int              not null,
  -- complete competencies, summed over the apprentices, and the quartiles of their numbers
  complete       int              not null,
  lower_quartile double precision not null,
  median         double precision not null,
  upper_quartile double precision not null,
  primary key (cohort_id, ends_on)
);

-- the work of a span of time, without reading what was said
create index record_log_over_time on record_log (recorded_at, kind, subject_id);
create index check_request_over_time on check_request (asked_at);
