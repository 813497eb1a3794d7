-- In which order how apprentices stand was kept, so that a node that has read all of it reads only what came since.

-- One row, counted up in the transaction that keeps something and therefore held until that is committed: what carries a
-- higher number was committed later.
create table kept_order (
  id     integer not null primary key check (id = 1),
  number bigint  not null
);
insert into kept_order (id, number) values (1, 0);

alter table kept_progress add column number bigint default 0 not null;
create index kept_progress_number on kept_progress (number);
