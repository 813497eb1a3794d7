package ferrule.rights;

import java.util.List;
import java.util.Set;

/**
 * What erasing a person does to each column of text in the database, and why. A column that is in none of these lists, of
 * a table of which no rows go, fails a test until somebody decides.
 *
 * <p>A question mark stands for the person. Beside this, the account itself gets its pseudonym ({@link ErasureStore}), and
 * the signed texts of the log are redacted by an entry that vouches for them.
 */
final class ErasureTables {

  /** What stands where words of others about the person stood. */
  static final String LEFT = "(erased)";

  private static final String DRAFTS = "select id from grade_draft where apprentice_id = ?";
  private static final String DEVICES = "select id from known_device where person_id = ?";
  private static final String SITTINGS = "sitting_id in (select id from drill_sitting where person_id = ?)";
  private static final String RESPONSES = "response_id in (select id from drill_response where " + SITTINGS + ")";
  private static final String REGRADES = "regrade_id in (select id from drill_regrade where " + RESPONSES + ")";

  private static final String LETS_IN = "it lets them in, or tells where they come in";

  /** Rows that go whole; those that hang from others come first. */
  record Gone(String table, String where, String why) {}

  static final List<Gone> GONE = List.of(
      new Gone("photo", "draft_id in (" + DRAFTS + ")", "a picture may show them, their hand or their name"),
      new Gone("web_session", "person_id = ?", LETS_IN),
      new Gone("known_browser", "person_id = ?", LETS_IN),
      new Gone("one_time_link", "person_id = ?", LETS_IN),
      new Gone("password_wanted", "person_id = ?", LETS_IN),
      new Gone("code_secret", "person_id = ?", LETS_IN),
      new Gone("recovery_code", "person_id = ?", LETS_IN),
      new Gone("passkey", "person_id = ?", LETS_IN),
      new Gone("school_identity", "person_id = ?", LETS_IN),
      new Gone("school_request", "person_id = ?", LETS_IN),
      new Gone("tablet_person", "person_id = ?", LETS_IN),
      new Gone("record_link", "person_id = ?", "it shows their record to others, and says to whom"),
      new Gone("device_delivery", "device_id in (" + DEVICES + ")", "what they sent has been entered since"),
      new Gone("known_device", "person_id = ?", LETS_IN),
      new Gone("kept_verdicts", "person_id = ?", "it repeats words that go, and is worked out anew"));

  /** Words of the person's rows that go, with what stands there then if there were any. */
  record Emptied(String table, String column, String where, String left, String why) {}

  private static final String ABOUT_THEM = "free words about them: nobody can know what in them tells who they are";
  private static final String DELIVERED = "subject_id in (" + DRAFTS + ")";

  static final List<Emptied> EMPTIED = List.of(
      new Emptied("bench_hours", "what", "apprentice_id = ?", LEFT, ABOUT_THEM),
      new Emptied("bench_hours", "reason", "apprentice_id = ?", LEFT, ABOUT_THEM),
      new Emptied("equivalence", "reason", "apprentice_id = ?", LEFT, ABOUT_THEM),
      new Emptied("equivalence_withdrawal", "reason",
          "equivalence_id in (select id from equivalence where apprentice_id = ?)", LEFT, ABOUT_THEM),
      new Emptied("device_delivery", "words", DELIVERED, LEFT, "it says their name"),
      new Emptied("device_delivery", "statement", DELIVERED, "", ABOUT_THEM + "; its hash stays in the log"),
      new Emptied("device_delivery", "signature", DELIVERED, "", "there is no statement any more that it is of"),
      new Emptied("audit_entry", "address", "who_id = ?", LEFT, "from where they came"));

  /**
   * Columns in which the name is looked for.
   *
   * @param own which rows are the person's
   * @param others whether the rows of others are searched too
   * @param json whether it is a grade: of the person's own, notes and reasons go whole
   * @param with what else is set where it is changed, as SQL
   */
  record Searched(String table, String column, String own, boolean others, boolean json, String why, String with) {

    Searched(String table, String column, String own, boolean others, boolean json, String why) {
      this(table, column, own, others, json, why, "");
    }
  }

  private static final String ANSWER = "answers count for them and for the question; a name that they typed goes";
  private static final String OTHERS = "words of instructors and coordinators, in which the name goes";

  static final List<Searched> SEARCHED = List.of(
      new Searched("grade_draft", "entries", "apprentice_id = ?", true, true, "limits are remembered from it; words go"),
      new Searched("second_grade", "grade", "draft_id in (" + DRAFTS + ")", true, true,
          "graders are compared by it; name and words go"),
      new Searched("drill_response", "typed", SITTINGS, false, false, ANSWER),
      new Searched("drill_response", "phrase", SITTINGS, false, false, ANSWER),
      new Searched("drill_response", "reason", SITTINGS, false, false, ANSWER),
      new Searched("drill_regrade", "reason", RESPONSES, false, false, ANSWER),
      new Searched("paper_tap", "written", "person_id = ?", false, false, ANSWER),
      new Searched("paper_entry", "written", RESPONSES, false, false, ANSWER),
      new Searched("paper_correction", "written", REGRADES, false, false, ANSWER),
      new Searched("bench_hours", "what", "apprentice_id = ?", true, false, OTHERS),
      new Searched("bench_hours", "reason", "apprentice_id = ?", true, false, OTHERS),
      new Searched("equivalence", "reason", "apprentice_id = ?", true, false, OTHERS),
      new Searched("equivalence_withdrawal", "reason",
          "equivalence_id in (select id from equivalence where apprentice_id = ?)", true, false, OTHERS),
      new Searched("cohort_move", "reason", "moved_by = ?", true, false, OTHERS),
      new Searched("tablet", "title", "made_by = ?", true, false, OTHERS),
      new Searched("loan_instrument", "description", "1 = 0 and id = ?", true, false, OTHERS),
      new Searched("device_delivery", "words", DELIVERED, true, false, OTHERS),
      // what the device signed has no signature any more once it is another text
      new Searched("device_delivery", "statement", DELIVERED, true, false, OTHERS, ", signature = ''"));

  /** Columns of a table, divided by spaces, that stay as they are. */
  record Stays(String table, String columns, String why) {}

  private static final String MADE = "made by the program, from the curriculum";
  private static final String CLASS = "the school's words about a class";
  private static final String KEY = "no words: a hash, a key or a state";
  private static final String NOBODY = "about nobody";

  static final List<Stays> STAYS = List.of(
      new Stays("person", "role", "what they were here"),
      new Stays("cohort", "title edition", CLASS),
      new Stays("cohort_move", "edition", NOBODY),
      new Stays("cohort_week", "basis", KEY),
      new Stays("drill_assignment", "title plan counts feedback", CLASS),
      new Stays("drill_sitting", "title plan edition", "what a class was asked, or they asked of themselves, by the program's names"),
      new Stays("drill_item", "kind part view_id variants lit interaction", MADE),
      new Stays("drill_response", "pointed_at verdict taken_for chosen", "what counts for the question; parts and numbers"),
      new Stays("drill_regrade", "verdict taken_for", "what counts for the question"),
      new Stays("drill_ruling", "glossary edition part typed phrase decision reason",
          "about a word of the trade, for everybody, and the log repeats it"),
      new Stays("known_difficulty", "part", NOBODY),
      new Stays("known_first", "part", MADE),
      new Stays("known_hold", "part", MADE),
      new Stays("named_last", "part", MADE),
      new Stays("loan_instrument", "tag instrument", "the school's instruments"),
      new Stays("grade_draft", "task_id tag", "the task, and an instrument of the school's"),
      new Stays("check_request", "task_id tag", "the task, and an instrument of the school's"),
      new Stays("record_log", "kind leaf_hash root_hash subtree_hash", "the chain; an erasure redacts the text (body)"),
      new Stays("record_log_head", "root_hash peaks", KEY),
      new Stays("head_key", "id public_key", KEY),
      new Stays("signed_head", "root_hash key_id signature", KEY),
      new Stays("paper_sheet", "title school plan edition", CLASS),
      new Stays("paper_item", "version item", MADE),
      new Stays("paper_script", "version", KEY),
      new Stays("paper_tap", "mark", KEY),
      new Stays("paper_entry", "mark", KEY),
      new Stays("paper_correction", "mark", KEY),
      new Stays("authority", "areas", "about instructors"),
      new Stays("programme_edition", "edition text titles", NOBODY),
      new Stays("equivalence", "competency", MADE),
      new Stays("kept_progress", "edition basis states ahead", "one letter for each competency"),
      new Stays("long_work", "state step failure file_name", "the title of a class; what was made goes"),
      new Stays("guess_level", "subject", "a hash, which removes itself"),
      new Stays("sign_in_puzzle", "id", NOBODY),
      new Stays("tablet", "token_hash", KEY),
      new Stays("site", "name schema_name title", NOBODY),
      new Stays("backup_turn", "outcome", NOBODY),
      new Stays("device_delivery", "kind state link", KEY),
      new Stays("audit_entry", "kind role route thing request outcome", "ids alone, by rule; who looked at what must stay"));

  /** Columns that {@link ErasureStore} writes by itself. */
  static final Set<String> BY_HAND =
      Set.of("person.sign_in_name", "person.full_name", "person.password_hash", "person.pin_hash", "record_log.body");

  private ErasureTables() {}
}
