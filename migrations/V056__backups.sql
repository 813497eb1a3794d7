-- Backups that the clock asks for: of several nodes over one database, the one that writes the row makes it.

create table backup_turn (
  -- the moment that it was due at
  due_at   timestamp with time zone not null primary key,
  taken_at timestamp with time zone not null,
  made_at  timestamp with time zone,
  -- what was made, or why nothing was
  outcome  varchar(1000)
);
