package ferrule.report.items;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.IntStream;

/** What each person scored on each item, from 0 to 1; a person need not have been asked every item. */
public final class Scores {

  /** Stands for "was not asked" inside only. */
  private static final double NOT_ASKED = Double.NaN;

  private final double[][] rows;
  private final int items;

  private Scores(double[][] rows, int items) {
    this.rows = rows;
    this.items = items;
  }

  /**
   * Scores by person, then by item.
   *
   * @param rows one for each person, all of one length; empty where the person was not asked the item
   * @throws IllegalArgumentException if a score is not from 0 to 1, or the rows differ in length
   */
  public static Scores of(List<List<OptionalDouble>> rows) {
    int items = rows.isEmpty() ? 0 : rows.get(0).size();
    double[][] scores = new double[rows.size()][];
    for (int p = 0; p < scores.length; p++) {
      scores[p] = rows.get(p).stream().mapToDouble(s -> s.orElse(NOT_ASKED)).toArray();
      if (scores[p].length != items) {
        throw new IllegalArgumentException("row " + p + " has " + scores[p].length + " items, the first has " + items);
      }
      if (Arrays.stream(scores[p]).anyMatch(s -> s < 0 || s > 1)) {
        throw new IllegalArgumentException("a score is from 0 to 1; row " + p + ": " + rows.get(p));
      }
    }
    return new Scores(scores, items);
  }

  /** Right and wrong answers of persons who were all asked every item: a line of ones and zeros for each person. */
  public static Scores ofPatterns(List<String> patterns) {
    return of(patterns.stream()
        .map(line -> line.chars().mapToObj(c -> OptionalDouble.of(c - '0')).toList())
        .toList());
  }

  /** How many persons there are. */
  public int persons() {
    return rows.length;
  }

  /** How many items there are. */
  public int items() {
    return items;
  }

  boolean asked(int person, int item) {
    return !Double.isNaN(rows[person][item]);
  }

  double score(int person, int item) {
    return rows[person][item];
  }

  /** The scores on an item of those who were asked it. */
  double[] onItem(int item) {
    return IntStream.range(0, rows.length).filter(p -> asked(p, item)).mapToDouble(p -> rows[p][item]).toArray();
  }

  /** The mean score of a person on the items that they were asked, without one of them; empty if that was the only one. */
  OptionalDouble restOf(int person, int item) {
    return IntStream.range(0, items)
        .filter(i -> i != item && asked(person, i))
        .mapToDouble(i -> rows[person][i])
        .average();
  }

  /** The sum of a person's scores. */
  double total(int person) {
    return Arrays.stream(rows[person]).filter(s -> !Double.isNaN(s)).sum();
  }

  /** Whether every person was asked every item. */
  public boolean isComplete() {
    return Arrays.stream(rows).flatMapToDouble(Arrays::stream).noneMatch(Double::isNaN);
  }

  /**
   * Persons and items without a gap between them, of which a reliability can be told: of the items that most were asked, so
   * many, with those who were asked them all, that there are as many scores as can be.
   */
  public Scores largestBlock() {
    List<Integer> byAsked = IntStream.range(0, items).boxed()
        .sorted(Comparator.comparingInt((Integer i) -> onItem(i).length).reversed()).toList();
    Scores largest = new Scores(new double[0][], 0);
    List<Integer> there = IntStream.range(0, rows.length).boxed().toList();
    for (int k = 1; k <= items && !there.isEmpty(); k++) {
      int item = byAsked.get(k - 1);
      there = there.stream().filter(p -> asked(p, item)).toList();
      if (there.size() * k > largest.persons() * largest.items()) {
        List<Integer> kept = byAsked.subList(0, k).stream().sorted().toList();
        List<Integer> persons = there;
        largest = new Scores(persons.stream().map(p -> rows[p]).toArray(double[][]::new), items).onlyItems(kept);
      }
    }
    return largest;
  }

  /** The items that every person was asked, by number. */
  public List<Integer> askedOfAll() {
    List<Integer> common = new ArrayList<>();
    for (int i = 0; i < items; i++) {
      int item = i;
      if (IntStream.range(0, rows.length).allMatch(p -> asked(p, item))) {
        common.add(i);
      }
    }
    return common;
  }

  /** The scores on these items only. */
  public Scores onlyItems(List<Integer> kept) {
    double[][] part =
        Arrays.stream(rows).map(row -> kept.stream().mapToDouble(i -> row[i]).toArray()).toArray(double[][]::new);
    return new Scores(part, kept.size());
  }
}
