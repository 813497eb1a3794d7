package ferrule.report;

import ferrule.bench.SignedWork;
import ferrule.competency.Area;
import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.Gap;
import ferrule.competency.Pace;
import ferrule.competency.State;
import ferrule.competency.Verdict;
import ferrule.competency.VerdictWords;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

/** A cohort's report as the page shows it. */
final class MatrixView {

  private MatrixView() {}

  /** An area and how many of its competencies stand beneath it. */
  record Group(String title, int columns) {}

  /** A competency and how many have completed it. */
  record Column(String id, String title, long completed, int of, boolean opens) {}

  /**
   * An apprentice.
   *
   * @param record the address of their record at the moment that is looked at
   */
  record Row(UUID id, String record, String name, boolean left, long completed, int of, List<Cell> cells) {

    /** The cells as they stand on the page; made here, because a large class has many thousand of them. */
    public String cellsMarkup() {
      StringBuilder markup = new StringBuilder(cells.size() * 150);
      String link = escaped(record);
      cells.forEach(cell -> cell.addTo(markup, link));
      return markup.toString();
    }
  }

  /** An area, with how many apprentices have all of it complete. */
  record AreaColumn(String id, String title, long completed, int of) {}

  /** An apprentice by area. */
  record AreaRow(UUID id, String record, String name, boolean left, long completed, int of, List<AreaCell> cells) {}

  /**
   * An apprentice and an area.
   *
   * @param competency its first one, to which the link leads
   * @param state the sort of tag: complete, something lapsed, begun, or nothing begun
   * @param says all of it in words
   */
  record AreaCell(
      String competency, String title, String state, String says, int complete, int behind, int lapsed, int of) {}

  /**
   * An apprentice and a competency.
   *
   * @param state the sort of tag
   * @param word the state in a word
   * @param says all of it in words
   * @param steps how much is missing: sign-offs, assemblies to name, evenings at the bench
   * @param behind whether it should be complete by the plan
   * @param opens whether an area begins with it
   * @param aside whether it is not what is looked for, though its apprentice and its competency are
   */
  record Cell(
      String competency, String title, String state, String word, String says, int steps, boolean behind,
      boolean opens, boolean aside) {

    private void addTo(StringBuilder markup, String record) {
      markup.append(opens ? "<td role=\"cell\" class=\"opens\">" : "<td role=\"cell\">")
          .append("<a class=\"cell ").append(state).append(aside ? " aside" : "").append("\" href=\"").append(record)
          .append('#').append(escaped(competency)).append("\" title=\"").append(escaped(says)).append("\">");
      if (steps > 0) {
        markup.append("<i aria-hidden=\"true\">").append(steps).append(behind ? "<b>!</b></i>" : "</i>");
      }
      markup.append("</a></td>");
    }
  }

  /**
   * An apprentice and the one competency that the page is about.
   *
   * @param has the sign-offs that count by now, in words; empty if there are none
   * @param missing what is missing, in words; empty if it is complete
   */
  record Line(
      UUID id, String name, boolean left, String state, String word, boolean behind, String has, List<String> missing,
      String hint) {}

  /** How many of those who are looked at stand in a state. */
  record Tally(String state, String word, long apprentices) {}

  static List<Group> groups(MatrixFilter.Selection selection) {
    return selection.report().programme().areas().stream()
        .map(a -> new Group(a.title(), (int) a.competencies().stream().filter(selection.columns()::contains).count()))
        .filter(g -> g.columns() > 0)
        .toList();
  }

  static List<Column> columns(MatrixFilter.Selection selection) {
    CohortReport report = selection.report();
    List<Column> columns = new ArrayList<>();
    for (Area area : report.programme().areas()) {
      List<Competency> seen = area.competencies().stream().filter(selection.columns()::contains).toList();
      for (Competency c : seen) {
        columns.add(new Column(
            c.id(), c.title(), report.completed(c.id()), report.rows().size(), c.equals(seen.get(0))));
      }
    }
    return columns;
  }

  private static String escaped(String text) {
    return text.replace("&", "&amp;").replace("\"", "&quot;").replace("<", "&lt;").replace(">", "&gt;");
  }

  static List<AreaColumn> areaColumns(CohortReport report) {
    return report.programme().areas().stream()
        .map(area -> new AreaColumn(
            area.id(), area.title(), report.rows().stream().filter(row -> hasAll(row, area)).count(),
            report.rows().size()))
        .toList();
  }

  private static boolean hasAll(CohortReport.Row row, Area area) {
    return area.competencies().stream().allMatch(c -> row.progress().of(c.id()).isMet());
  }

  /** Those who are looked at by area. */
  static List<AreaRow> areaRows(MatrixFilter.Selection selection) {
    CohortReport report = selection.report();
    return selection.rows().stream()
        .map(r -> new AreaRow(
            r.apprentice().id(), "/record/" + r.apprentice().id() + report.asOf().query(), r.apprentice().fullName(),
            report.hasLeft(r), r.progress().complete(), report.programme().competencies().size(),
            report.programme().areas().stream().map(area -> areaCell(report, area, r)).toList()))
        .toList();
  }

  private static AreaCell areaCell(CohortReport report, Area area, CohortReport.Row row) {
    int behind = 0;
    Map<State, Integer> counts = new EnumMap<>(State.class);
    for (Competency c : area.competencies()) {
      behind += isBehind(report, c, row) ? 1 : 0;
      counts.merge(State.of(row.progress().of(c.id())), 1, Integer::sum);
    }
    int of = area.competencies().size();
    int complete = counts.getOrDefault(State.COMPLETE, 0);
    int lapsed = counts.getOrDefault(State.LAPSED, 0);
    String state = complete == of ? "good" : lapsed > 0 ? "bad"
        : counts.getOrDefault(State.NOT_BEGUN, 0) == of ? "idle" : "open";
    String says = area.title() + ": " + complete + " of " + of + " complete"
        + (behind > 0 ? ", " + behind + " behind plan" : "") + (lapsed > 0 ? ", " + lapsed + " lapsed" : "");
    return new AreaCell(
        area.competencies().get(0).id(), area.title(), state, says, complete, behind, lapsed, of);
  }

  static List<Row> rows(MatrixFilter filter, MatrixFilter.Selection selection) {
    CohortReport report = selection.report();
    List<Column> columns = columns(selection);
    return selection.rows().stream()
        .map(r -> {
          List<Cell> cells = new ArrayList<>();
          for (int i = 0; i < columns.size(); i++) {
            Competency c = selection.columns().get(i);
            cells.add(cell(report, c, r, columns.get(i).opens(), !filter.isIn(report, r, c)));
          }
          return new Row(
              r.apprentice().id(), "/record/" + r.apprentice().id() + report.asOf().query(), r.apprentice().fullName(),
              report.hasLeft(r), r.progress().complete(), report.programme().competencies().size(), cells);
        })
        .toList();
  }

  private static Cell cell(CohortReport report, Competency c, CohortReport.Row row, boolean opens, boolean aside) {
    Verdict v = row.progress().of(c.id());
    boolean behind = isBehind(report, c, row);
    int steps = v.isMet() ? 0 : v.cost();
    String word = VerdictWords.word(v);
    String says = c.title() + ": " + word + (behind ? ", behind plan" : "")
        + (steps > 0 ? ", " + steps + " missing" : "");
    return new Cell(c.id(), c.title(), VerdictWords.state(v), word, says, steps, behind, opens, aside);
  }

  private static boolean isBehind(CohortReport report, Competency c, CohortReport.Row row) {
    return !report.hasLeft(row)
        && Pace.of(report.cohort()).isBehind(c, row.progress().of(c.id()), report.asOf().day());
  }

  /** The apprentices who are looked at and one competency, those who lack it first. */
  static List<Line> lines(MatrixFilter.Selection selection, Competency c, ZoneId zone) {
    CohortReport report = selection.report();
    return selection.rows().stream()
        .map(r -> {
          Verdict v = r.progress().of(c.id());
          return new Line(
              r.apprentice().id(), r.apprentice().fullName(), report.hasLeft(r), VerdictWords.state(v),
              VerdictWords.word(v), isBehind(report, c, r), has(v, zone), v.missing().stream().map(Gap::inWords).toList(),
              v.hint().orElse(""));
        })
        .sorted(Comparator.comparing(line -> line.missing().isEmpty()))
        .toList();
  }

  private static String has(Verdict v, ZoneId zone) {
    if (v.equivalence().isPresent()) {
      return "prior learning";
    }
    if (v.works().isEmpty()) {
      return "";
    }
    SignedWork last = v.works().stream().max(Comparator.comparing(SignedWork::gradedAt)).orElseThrow();
    return v.works().size() + (v.works().size() == 1 ? " sign-off" : " sign-offs") + ", the last on "
        + AsOf.inWords(LocalDate.ofInstant(last.gradedAt(), zone)) + " by " + last.instructorName();
  }

  /** How many stand in which state to a competency. */
  static List<Tally> tally(CohortReport report, Competency c) {
    Map<String, Tally> tallies = new LinkedHashMap<>();
    for (CohortReport.Row row : report.rows()) {
      Verdict v = row.progress().of(c.id());
      tallies.merge(
          VerdictWords.word(v), new Tally(VerdictWords.state(v), VerdictWords.word(v), 1),
          (a, b) -> new Tally(a.state(), a.word(), a.apprentices() + 1));
    }
    return tallies.values().stream().sorted(Comparator.comparingLong(Tally::apprentices).reversed()).toList();
  }
}
