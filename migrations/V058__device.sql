-- Browsers on which people go on without a network, and what came from them.

create table known_device (
  id          uuid                     not null primary key,
  person_id   uuid                     not null references person (id),
  opened_at   timestamp with time zone not null,
  -- P-256, as SubjectPublicKeyInfo in base64: what the browser signs is checked with it
  verify_key  varchar(200)             not null,
  -- P-256, as PKCS #8 and SubjectPublicKeyInfo in base64: what the browser seals is opened with it
  open_key    varchar(400)             not null,
  seal_key    varchar(200)             not null,
  -- when its person last proved presence for signing without a network, and until when that holds
  proven_at   timestamp with time zone,
  signs_until timestamp with time zone,
  -- since when nothing that comes from it is entered any more
  closed_at   timestamp with time zone
);

create index known_device_of_person on known_device (person_id, opened_at);

-- What was received from a browser, once each, in the order in which it was made there.
create table device_delivery (
  id          uuid                     not null primary key,
  device_id   uuid                     not null references known_device (id),
  -- counted from 1 on each device
  seq         int                      not null,
  kind        varchar(20)              not null,
  received_at timestamp with time zone not null,
  -- what became of it: entered, held, kept or late
  state       varchar(10)              not null,
  words       text                     not null,
  link        varchar(200)             not null,
  -- the draft or sitting that it is about
  subject_id  uuid,
  -- what the browser signed, to the letter, and its signature (ECDSA with SHA-256, r and s in base64)
  statement   text                     not null,
  signature   varchar(120)             not null,
  constraint device_delivery_in_order unique (device_id, seq)
);

create index device_delivery_of_subject on device_delivery (subject_id);
