package ferrule.rights;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Which rows of which table are about a person, and which only tell that the person did something.
 *
 * <p>Rows about a person are given whole. Of rows in which somebody only stands as the one who did it, to others or for a
 * whole class, what is said of those others is not theirs: they are given the row's id, its kind and its times.
 */
final class PersonTables {

  /**
   * Rows about a person.
   *
   * @param table where they are
   * @param where which they are; the question marks stand for the person
   * @param meaning what a row is, in a sentence
   */
  record About(String table, String where, String meaning) {}

  /** Rows of a table that name a person in this column as the one who did something. */
  record By(String table, String column) {}

  private static final String SITTINGS = "sitting_id in (select id from drill_sitting where person_id = ?)";
  private static final String RESPONSES = "response_id in (select id from drill_response where " + SITTINGS + ")";
  private static final String REGRADES = "regrade_id in (select id from drill_regrade where " + RESPONSES + ")";
  private static final String DRAFTS = "draft_id in (select id from grade_draft where apprentice_id = ?)";

  /** Rows about a person, the readable first. */
  static final List<About> ABOUT = List.of(
      new About("person", "id = ?", "The person's account."),
      new About("cohort_member", "person_id = ?", "When they were in which cohort."),
      new About("cohort", "id in (select cohort_id from cohort_member where person_id = ?)", "Such a cohort."),
      new About("record_log", "subject_id = ?", "What was signed about them, word for word."),
      new About("second_signature", "apprentice_id = ?", "A second signature that was asked for."),
      new About("grade_draft", "apprentice_id = ?", "A grade as it was written, signed or not."),
      new About("photo", DRAFTS, "A photo of their work; the picture itself is in the folder photos."),
      new About("second_grade", DRAFTS, "A second, blind grade of their work."),
      new About("check_request", "apprentice_id = ?", "That they said that work is ready."),
      new About("bench_hours", "apprentice_id = ?", "Time at the bench."),
      new About("equivalence", "apprentice_id = ?", "Prior learning that was granted."),
      new About("equivalence_withdrawal", "equivalence_id in (select id from equivalence where apprentice_id = ?)",
          "That such a grant was withdrawn."),
      new About("drill_sitting", "person_id = ?", "A drill that they took."),
      new About("drill_item", SITTINGS, "What they were asked."),
      new About("drill_response", SITTINGS, "What they answered."),
      new About("drill_dispute", RESPONSES, "That they thought an answer was right."),
      new About("drill_regrade", RESPONSES, "That an answer counts otherwise since."),
      new About("drill_regrade_read", REGRADES, "That they have read so."),
      new About("known_pending", RESPONSES, "An answer that is not yet taken into what is known."),
      new About("paper_script", "person_id = ?", "A worksheet that was entered for them."),
      new About("paper_tap", "person_id = ?", "A mark in a worksheet that is being entered."),
      new About("paper_entry", RESPONSES, "An answer that was written on paper."),
      new About("paper_correction", REGRADES, "A correction of such an answer."),
      new About("drill_chosen", "person_id = ?", "A drill that was set for them among few."),
      new About("drill_pace", "person_id = ?", "How much time they have in every drill."),
      new About("drill_extra_time", "person_id = ?", "More time in one drill."),
      new About("known_ability", "person_id = ?", "How well they retain names, as it is estimated."),
      new About("known_first", "person_id = ?", "Their first answer for a part, and what was estimated after it."),
      new About("known_anew", "person_id = ?", "That their answers are to be read anew."),
      new About("known_hold", "person_id = ?", "How well they know a part's name, as it is estimated."),
      new About("named_last", "person_id = ?", "Their last answer for a part that they were asked to name."),
      new About("named_unread", "person_id = ?", "That their answers are still to be looked through for the last ones."),
      new About("kept_progress", "person_id = ?", "How they stand, in brief."),
      new About("kept_verdicts", "person_id = ?", "How they stand, in full."),
      new About("new_evidence", "person_id = ?", "That something was recorded that is not judged yet."),
      new About("record_link", "person_id = ?", "A link to their record that they made."),
      new About("authority", "instructor_id = ?", "What they may sign."),
      new About("web_session", "person_id = ?", "Where they are signed in."),
      new About("known_browser", "person_id = ?", "A browser in which they have signed in."),
      new About("one_time_link", "person_id = ?", "A link by which they could choose a password."),
      new About("password_wanted", "person_id = ?", "That they asked for a new password."),
      new About("code_secret", "person_id = ?", "That they set up one-time codes."),
      new About("recovery_code", "person_id = ?", "A recovery code, and whether it was used."),
      new About("passkey", "person_id = ?", "A passkey."),
      new About("school_identity", "person_id = ?", "An account with the school."),
      new About("school_request", "person_id = ?", "That they began to connect one."),
      new About("tablet_person", "person_id = ?", "A shared tablet on which they have signed in."),
      new About("known_device", "person_id = ?", "A device that was taken along without a network."),
      new About("device_delivery", "device_id in (select id from known_device where person_id = ?)",
          "What such a device handed in."),
      new About("audit_entry", "about_id = ?", "Who saw or changed something of theirs."));

  /** Rows that name a person as the one who did something. */
  static final List<By> BY = List.of(
      new By("drill_assignment", "set_by"), new By("drill_ruling", "ruled_by"), new By("drill_ruling_undone", "undone_by"),
      new By("grade_draft", "instructor_id"), new By("second_grade", "grader_id"), new By("authority", "set_by"),
      new By("second_signature", "first_signer"), new By("second_signature", "given_by"), new By("cohort_move", "moved_by"),
      new By("bench_hours", "entered_by"), new By("equivalence", "granted_by"),
      new By("equivalence_withdrawal", "withdrawn_by"), new By("drill_pace", "given_by"),
      new By("drill_extra_time", "given_by"), new By("paper_sheet", "made_by"), new By("paper_script", "entered_by"),
      new By("paper_tap", "tapped_by"), new By("paper_entry", "entered_by"), new By("paper_correction", "corrected_by"),
      new By("long_work", "asked_by"), new By("tablet", "made_by"), new By("audit_entry", "who_id"));

  /** What is left out of these tables, with the reason. */
  static final Map<String, Set<String>> LEFT_OUT = leftOut();

  private static Map<String, Set<String>> leftOut() {
    Map<String, Set<String>> out = new LinkedHashMap<>();
    // by which somebody could be let in, or guess at what lets them in
    out.put("person", Set.of("password_hash", "pin_hash"));
    out.put("web_session", Set.of("token_hash", "csrf_token"));
    out.put("one_time_link", Set.of("token_hash"));
    out.put("known_browser", Set.of("token_hash"));
    out.put("record_link", Set.of("token_hash"));
    out.put("code_secret", Set.of("secret"));
    out.put("recovery_code", Set.of("code_hash", "starts"));
    out.put("school_request", Set.of("state_hash", "nonce", "verifier"));
    out.put("known_device", Set.of("open_key"));
    // the address of somebody else's computer
    out.put("audit_entry", Set.of("address"));
    // stands as a file of its own
    out.put("photo", Set.of("jpeg"));
    return out;
  }

  private PersonTables() {}
}
