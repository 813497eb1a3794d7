-- Of all that was ever asked to be checked and begun to be graded, what is open is found without reading the rest.
create index check_request_of_draft on check_request (draft_id, withdrawn_at);
create index grade_draft_by_record on grade_draft (signed_record, instructor_id);
