-- Whether a part was missed when it was last asked for. All is made anew from the answers, so the default holds nowhere.
alter table known_hold add column missed boolean default false not null;
update known_through set outdated = true;
