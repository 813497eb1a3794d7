-- An erasure takes a person's name out of what was signed about them. The hash of what was signed stays; the text that
-- stands in its place is vouched for by a later entry of the log.
-- the number of the entry that did so last; null while the text is the signed one
alter table record_log add column redacted_by bigint;
