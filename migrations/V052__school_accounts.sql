-- Accounts with the school, at its OpenID provider, that lead to a person here.
create table school_identity (
  issuer    varchar(300)             not null,
  subject   varchar(255)             not null,
  person_id uuid                     not null references person (id),
  linked_at timestamp with time zone not null,
  primary key (issuer, subject)
);
create index school_identity_person on school_identity (person_id);

-- A way to the provider that has begun and not come back.
create table school_request (
  state_hash varchar(64)              not null primary key,
  nonce      varchar(64)              not null,
  verifier   varchar(64)              not null,
  -- who connects their account with it; empty where somebody comes in
  person_id  uuid references person (id),
  then_path  varchar(2000)            not null,
  expires_at timestamp with time zone not null
);
