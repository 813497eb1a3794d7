-- How often a ruling was made or taken back. Whoever does either, or keeps an answer that a ruling can bear on, holds
-- the row's lock, so that no answer is kept that was judged by rulings which do not hold any more.
create table drill_rulings_made (
  id   int    not null primary key,
  made bigint not null
);

insert into drill_rulings_made (id, made)
select 1, (select count(*) from drill_ruling) + (select count(*) from drill_ruling_undone);
