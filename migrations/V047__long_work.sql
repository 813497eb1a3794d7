-- Long work that goes on while nobody waits for it, such as an accreditation bundle: what was asked for, who is at it,
-- how far it is, and what it made. It is here and not at a node, so that any node can show, stop and deliver it.

create table long_work (
  id           uuid                     not null primary key,
  -- null stands for the whole programme
  cohort_id    uuid references cohort (id),
  as_of        date                     not null,
  asked_by     uuid                     not null references person (id),
  asked_at     timestamp with time zone not null,
  -- waiting, running, done, failed, cancelled or gone (done, and the file was removed)
  state        varchar(20)              not null,
  -- which of the few that may run at once; null unless it runs
  slot         int,
  -- the node that is at it, and when it last gave a sign of life
  node         uuid,
  seen_at      timestamp with time zone,
  tries        int                      default 0 not null,
  started_at   timestamp with time zone,
  ended_at     timestamp with time zone,
  step         varchar(200)             default '' not null,
  done         bigint                   default 0 not null,
  total        bigint                   default 0 not null,
  cancel_asked boolean                  default false not null,
  failure      varchar(1000)            default '' not null,
  file_name    varchar(200)             default '' not null,
  file_size    bigint                   default 0 not null,
  constraint long_work_slot_once unique (slot)
);

create index long_work_by_state on long_work (state, asked_at);

-- What it made, in pieces, until it is removed.
create table long_work_piece (
  work_id uuid  not null references long_work (id),
  number  int   not null,
  bytes   bytea not null,
  primary key (work_id, number)
);
