package ferrule.report;

import ferrule.competency.Area;
import ferrule.competency.Competency;
import ferrule.competency.Pace;
import ferrule.competency.Verdict;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What of a cohort's matrix is looked at: "who is behind in metalwork", say, or "soldering".
 *
 * @param state only those apprentices and competencies that meet in this state somewhere
 * @param area only the competencies of this one
 * @param words only competencies whose title or sentence says this or, if none does, only apprentices whose name does;
 *     upper case or not; empty for all
 */
public record MatrixFilter(State state, Optional<Area> area, String words) {

  /** In what state an apprentice may stand to a competency. */
  public enum State {
    /** Whatever it is. */
    ANY("any", "in any state"),
    /** It is not complete. */
    LACKING("lacking", "lacking"),
    /** It is not complete and should be by the plan. */
    BEHIND("behind", "behind the plan"),
    /** It was complete and has to be shown again. */
    LAPSED("lapsed", "lapsed");

    private final String word;
    private final String title;

    State(String word, String title) {
      this.word = word;
      this.title = title;
    }

    /** The word for it in an address. */
    public String word() {
      return word;
    }

    /** The same for people. */
    public String title() {
      return title;
    }

    /** The state with this word, if there is one. */
    public static Optional<State> find(String word) {
      return Arrays.stream(values()).filter(s -> s.word.equals(word)).findFirst();
    }
  }

  /** Everything. */
  public static final MatrixFilter NONE = new MatrixFilter(State.ANY, Optional.empty(), "");

  /**
   * What is left of a report.
   *
   * @param report all of it
   * @param rows those looked at
   * @param columns the competencies looked at, in the order of the programme
   */
  public record Selection(CohortReport report, List<CohortReport.Row> rows, List<Competency> columns) {

    /** Copies the lists. */
    public Selection {
      rows = List.copyOf(rows);
      columns = List.copyOf(columns);
    }
  }

  /** Strips the words. */
  public MatrixFilter {
    words = words.strip();
  }

  /** Whether it leaves everything. */
  public boolean isNone() {
    return equals(NONE);
  }

  /** Whether it leaves every competency in whatever state, and at most some of the apprentices, by their names. */
  public boolean isByName(CohortReport report) {
    return state == State.ANY && area.isEmpty() && named(report).isEmpty();
  }

  /** Whether an apprentice stands to a competency in the state that is looked for. */
  public boolean isIn(CohortReport report, CohortReport.Row row, Competency competency) {
    Verdict verdict = row.progress().of(competency.id());
    return switch (state) {
      case ANY -> true;
      case LACKING -> !verdict.isMet();
      case BEHIND -> !report.hasLeft(row)
          && Pace.of(report.cohort()).isBehind(competency, verdict, report.asOf().day());
      case LAPSED -> verdict.isLapsed();
    };
  }

  /** What it leaves of a report. */
  public Selection of(CohortReport report) {
    List<Competency> columns =
        area.map(Area::competencies).orElseGet(report.programme()::competencies);
    List<CohortReport.Row> rows = report.rows();
    if (!words.isEmpty()) {
      List<Competency> named = named(report);
      if (named.isEmpty()) {
        rows = rows.stream().filter(row -> says(row.apprentice().fullName())).toList();
      } else {
        columns = named;
      }
    }
    return state == State.ANY ? new Selection(report, rows, columns) : inState(report, rows, columns);
  }

  /** The competencies that the words name, in the area that is looked at; none where there are no words. */
  public List<Competency> named(CohortReport report) {
    List<Competency> all = area.map(Area::competencies).orElseGet(report.programme()::competencies);
    return words.isEmpty() ? List.of() : all.stream().filter(c -> says(c.title()) || says(c.says())).toList();
  }

  /** Those apprentices who stand in this state to a competency; the words are theirs, unless they name competencies. */
  public Selection of(CohortReport report, Competency competency) {
    boolean theirs = named(report).isEmpty();
    return new Selection(
        report,
        report.rows().stream()
            .filter(row -> isIn(report, row, competency) && (!theirs || says(row.apprentice().fullName()))).toList(),
        List.of(competency));
  }

  private Selection inState(CohortReport report, List<CohortReport.Row> rows, List<Competency> columns) {
    return new Selection(
        report,
        rows.stream().filter(row -> columns.stream().anyMatch(c -> isIn(report, row, c))).toList(),
        columns.stream().filter(c -> rows.stream().anyMatch(row -> isIn(report, row, c))).toList());
  }

  private boolean says(String text) {
    return text.toLowerCase(Locale.ROOT).contains(words.toLowerCase(Locale.ROOT));
  }

  /** What is looked at, in words, such as "behind the plan, in Valves"; empty for everything. */
  public String inWords() {
    return Stream.of(
            state == State.ANY ? "" : state.title(),
            area.map(a -> "in " + a.title()).orElse(""),
            words.isEmpty() ? "" : "“" + words + "”")
        .filter(s -> !s.isEmpty())
        .reduce((a, b) -> a + ", " + b).orElse("");
  }
}
