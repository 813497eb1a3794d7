-- Passkeys (W3C Web Authentication): the public half of a key that a person's device or token keeps.
create table passkey (
  credential_id varchar(1400)            not null primary key,
  person_id     uuid                     not null references person (id),
  title         varchar(80)              not null,
  -- attested credential data as the authenticator sent it, in base64url
  key_data      varchar(4000)            not null,
  -- the flags of registration and the count of signatures so far, by which a copied key may show
  backup_able   boolean                  not null,
  sign_count    bigint                   not null,
  -- the host that it is for
  host          varchar(255)             not null,
  made_at       timestamp with time zone not null,
  used_at       timestamp with time zone
);
create index passkey_person on passkey (person_id);
