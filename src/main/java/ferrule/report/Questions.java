package ferrule.report;

import ferrule.drill.ItemKind;
import ferrule.drill.Scored;
import ferrule.glossary.ConceptId;
import ferrule.report.items.Advice;
import ferrule.report.items.ItemFigures;
import ferrule.report.items.RaschScale;
import ferrule.report.items.Reliability;
import ferrule.report.items.Scores;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import java.util.stream.Collectors;

/**
 * The parts that a cohort was asked about, each with its figures: what to teach again, what to look at, what to ask less. A
 * part counts as one item in whatever way it was asked, because by single ways the answers of a class are too few; every
 * apprentice counts with their first answer to it.
 *
 * @param lines one for each part, those that call for something first
 * @param ways one for each way of asking, the hardest first
 * @param persons how many apprentices answered anything
 * @param reliability of a test of those parts that all of some apprentices were asked, as many as can be; empty if there is
 *     no such test
 */
public record Questions(List<Line> lines, List<Way> ways, int persons, Optional<Reliability> reliability) {

  /**
   * A part.
   *
   * @param part which
   * @param figures by classical test theory
   * @param place on the Rasch model's scale, where the answers determine one
   */
  public record Line(ConceptId part, ItemFigures figures, Optional<Place> place) {

    /** What to do about it. */
    public Advice advice() {
      return Advice.on(figures);
    }
  }

  /**
   * A way of asking.
   *
   * @param kind what was asked for
   * @param answers how many answers there were
   * @param right the mean score, from 0 to 1
   */
  public record Way(ItemKind kind, int answers, double right) {}

  /**
   * A place on the Rasch model's scale.
   *
   * @param difficulty in log odds about the mean of all questions of the cohort
   * @param standardError of that
   */
  public record Place(double difficulty, double standardError) {}

  private static final Comparator<Line> WHAT_MATTERS_FIRST =
      Comparator.comparing((Line line) -> line.advice() == Advice.TOO_FEW)
          .thenComparing(Line::advice)
          .thenComparing(line -> line.figures().difficulty());

  /** Copies the lists. */
  public Questions {
    lines = List.copyOf(lines);
    ways = List.copyOf(ways);
  }

  /**
   * The figures of these answers.
   *
   * @param answers in the order in which they were given
   */
  public static Questions of(List<Scored> answers) {
    Map<ConceptId, Integer> columns = new LinkedHashMap<>();
    Map<UUID, Map<Integer, Double>> rows = new LinkedHashMap<>();
    for (Scored answer : answers) {
      int column = columns.computeIfAbsent(answer.part(), part -> columns.size());
      rows.computeIfAbsent(answer.person(), p -> new LinkedHashMap<>()).putIfAbsent(column, answer.credit());
    }
    Scores scores = scores(rows, columns.size(), false);
    Optional<RaschScale> scale = RaschScale.fit(scores(rows, columns.size(), true));
    List<Line> lines = new ArrayList<>();
    columns.forEach((part, column) ->
        lines.add(new Line(part, ItemFigures.of(scores, column), scale.map(s -> place(s, column)))));
    lines.sort(WHAT_MATTERS_FIRST);
    return new Questions(lines, ways(answers), rows.size(), Reliability.of(scores.largestBlock()));
  }

  private static Place place(RaschScale scale, int column) {
    return new Place(scale.difficulties().get(column), scale.standardErrors().get(column));
  }

  private static List<Way> ways(List<Scored> answers) {
    return answers.stream().collect(Collectors.groupingBy(Scored::kind)).entrySet().stream()
        .map(way -> new Way(way.getKey(), way.getValue().size(), mean(way.getValue())))
        .sorted(Comparator.comparingDouble(Way::right).thenComparing(Way::kind))
        .toList();
  }

  private static double mean(List<Scored> answers) {
    return answers.stream().mapToDouble(Scored::credit).average().orElseThrow();
  }

  // the model knows right and wrong only: part of a point is wrong to it
  private static Scores scores(Map<UUID, Map<Integer, Double>> rows, int columns, boolean wholePointsOnly) {
    List<List<OptionalDouble>> table = new ArrayList<>();
    for (Map<Integer, Double> row : rows.values()) {
      List<OptionalDouble> line = new ArrayList<>();
      for (int column = 0; column < columns; column++) {
        Double credit = row.get(column);
        line.add(
            credit == null
                ? OptionalDouble.empty()
                : OptionalDouble.of(wholePointsOnly ? Math.floor(credit) : credit));
      }
      table.add(line);
    }
    return Scores.of(table);
  }
}
