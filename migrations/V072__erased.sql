-- Since when a person stands under a pseudonym alone; null for everybody else. Nobody comes back from it.
alter table person add column erased_at timestamp with time zone;
