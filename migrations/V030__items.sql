-- More kinds of items: what is asked and what can be chosen are kept, so that an item can be shown again as it was.

-- the part that the drawing lights; null if it lights none, and for the items from before, which light their part if it
-- is to be named
alter table drill_item add column lit varchar(80);
-- JSON: stem, options with key and reasons, or steps with precedences; null for the items from before
alter table drill_item add column interaction text;
-- the id of the option that was chosen, or the ids of the steps in the order given, joined by a space
alter table drill_response add column chosen varchar(1000);
