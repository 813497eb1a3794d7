-- Grading at the bench, and the log of signed records. The log is only ever added to; each record's hash enters a
-- Merkle tree, whose root after that record is kept beside it.

create table loan_instrument (
  id          uuid         not null primary key,
  tag         varchar(40)  not null,
  instrument  varchar(80)  not null,
  description varchar(200) not null,
  retired_on  date,
  constraint loan_instrument_tag_once unique (tag)
);

create table grade_draft (
  id            uuid                     not null primary key,
  instructor_id uuid                     not null references person (id),
  apprentice_id uuid                     not null references person (id),
  task_id       varchar(80)              not null,
  tag           varchar(40)              not null,
  -- JSON: what has been confirmed, chosen and typed so far
  entries       text                     not null,
  -- the record that it is to correct
  corrects      uuid,
  created_at    timestamp with time zone not null,
  updated_at    timestamp with time zone not null,
  discarded_at  timestamp with time zone,
  signed_record uuid
);

create index grade_draft_of_instructor on grade_draft (instructor_id, updated_at);

create table record_log (
  -- counted from 1 without a gap: the size of the tree after this record
  number        bigint                   not null primary key,
  id            uuid                     not null,
  kind          varchar(20)              not null,
  apprentice_id uuid                     not null references person (id),
  -- the record that a correction or withdrawal takes the place of: at most one for each
  supersedes    uuid,
  -- one draft is signed at most once
  draft_id      uuid,
  recorded_at   timestamp with time zone not null,
  -- canonical JSON; every column but the hashes and the number repeats something in it
  body          text                     not null,
  leaf_hash     varchar(64)              not null,
  root_hash     varchar(64)              not null,
  constraint record_log_id_once unique (id),
  constraint record_log_supersedes_once unique (supersedes),
  constraint record_log_draft_once unique (draft_id)
);

create index record_log_of_apprentice on record_log (apprentice_id, number);

-- One row: the tree's head. Whoever appends locks it first, so that appends take turns.
create table record_log_head (
  id        int           not null primary key,
  size      bigint        not null,
  root_hash varchar(64)   not null,
  -- roots of the full subtrees from left to right, joined by a space: all that the next append needs
  peaks     varchar(4400) not null,
  last_at   timestamp with time zone,
  constraint record_log_head_alone check (id = 1)
);

insert into record_log_head (id, size, root_hash, peaks)
values (1, 0, 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855', '');
