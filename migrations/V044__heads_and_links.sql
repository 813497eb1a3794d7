-- Signed heads of the log, what proofs are made from, and the links by which an apprentice shows their record.

-- The root of the largest full subtree that the entry completes: whatever proof is asked for needs a few of these.
-- It follows from the leaves, and is made anew from them where it is null.
alter table record_log add column subtree_hash varchar(64);

-- The public keys that heads were signed with; the private one is never in the database.
create table head_key (
  -- SHA-256 of the key as it stands in public_key
  id         varchar(64)              not null primary key,
  -- SubjectPublicKeyInfo in base64
  public_key varchar(200)             not null,
  made_at    timestamp with time zone not null
);

create table signed_head (
  size      bigint                   not null primary key,
  root_hash varchar(64)              not null,
  signed_at timestamp with time zone not null,
  key_id    varchar(64)              not null references head_key (id),
  -- in base64
  signature varchar(200)             not null
);

-- Only a hash of the token is kept: a reader of the table cannot open a record by it.
create table record_link (
  id             uuid                     not null primary key,
  token_hash     varchar(64)              not null,
  person_id      uuid                     not null references person (id),
  -- for whom it was made, in the apprentice's words
  purpose        varchar(120)             not null,
  made_at        timestamp with time zone not null,
  expires_at     timestamp with time zone not null,
  revoked_at     timestamp with time zone,
  times_opened   int                      default 0 not null,
  last_opened_at timestamp with time zone,
  constraint record_link_token_once unique (token_hash)
);

create index record_link_of_person on record_link (person_id, made_at);
