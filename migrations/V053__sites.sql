-- The programmes ("sites") that one installation serves. Each has a schema of its own with all of these tables; this one
-- is read in the default schema alone, which is the first site's.

create table site (
  -- as it stands in addresses: /at/{name}
  name        varchar(40)              not null primary key,
  schema_name varchar(63)              not null,
  -- empty until a coordinator names the programme
  title       varchar(120)             not null,
  added_at    timestamp with time zone not null,
  constraint site_schema_once unique (schema_name)
);
