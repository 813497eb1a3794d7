package ferrule.report.items;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;
import org.hipparchus.stat.correlation.PearsonsCorrelation;

/**
 * How one answer to an item performed: a good wrong answer is chosen by some, and by those who know less of the rest.
 *
 * @param answer what was answered
 * @param right whether it is the right one
 * @param offered how many could choose it: those to whom it was offered, or all who answered if nothing was
 * @param chosen how many did
 * @param rest the mean, over those who did, of their mean scores on the other items; empty if nobody did
 * @param correlation of choosing it with the score on the rest (point-biserial: Pearson's of a choice counted 1 or 0); empty
 *     where one of the two does not vary, or for fewer than three
 * @param isOption whether it was offered to choose; otherwise it was made up
 */
public record Distractor(
    String answer, boolean right, int offered, int chosen, OptionalDouble rest, OptionalDouble correlation, boolean isOption) {

  /** What to do about an answer. */
  public enum Advice {
    /** Too few could choose it: nothing is said. */
    TOO_FEW("Too few to say anything."),
    /** It is the right one. */
    KEY("The right answer."),
    /** Those who know the rest choose it rather than the others. */
    DRAWS_THE_BETTER("Those who know the rest choose it: see whether it is right too."),
    /** Hardly anybody chooses it. */
    UNUSED("Hardly anybody chooses it: it makes the question easier than it looks."),
    /** Nothing to do. */
    WORKS("Works: chosen by those who know less.");

    private final String sentence;

    Advice(String sentence) {
      this.sentence = sentence;
    }

    /** The advice in a sentence for an instructor. */
    public String sentence() {
      return sentence;
    }
  }

  /**
   * An answer that somebody gave.
   *
   * @param offered what there was to choose from; empty where the answer had to be made up
   * @param right those answers that are right
   * @param rest the person's mean score on the other items; empty if there is none
   */
  public record Given(String answer, Set<String> offered, Set<String> right, OptionalDouble rest) {}

  // T. M. Haladyna, S. M. Downing, Educational and Psychological Measurement 53 (1993), 999-1010: an option that fewer than
  // one in twenty choose does no work; from memory
  private static final double ONE_IN_TWENTY = 0.05;
  private static final int FEWEST_TO_CORRELATE = 3;

  /** The share of those who could choose it that did. */
  public double share() {
    return offered == 0 ? 0 : (double) chosen / offered;
  }

  /** Whether so many could choose it that anything can be said: {@link Advice}'s own bound for discrimination. */
  public boolean isEnough() {
    return offered >= ferrule.report.items.Advice.ANSWERS_FOR_DISCRIMINATION;
  }

  /** What to do about it. */
  public Advice advice() {
    if (right) {
      return Advice.KEY;
    }
    if (!isEnough()) {
      return Advice.TOO_FEW;
    }
    if (chosen > 0 && correlation.orElse(0) > 0) {
      return Advice.DRAWS_THE_BETTER;
    }
    return isOption && share() < ONE_IN_TWENTY ? Advice.UNUSED : Advice.WORKS;
  }

  /** How each answer performed that was given or offered: the right ones first, then by how many chose it. */
  public static List<Distractor> of(List<Given> given) {
    Set<String> answers = new LinkedHashSet<>();
    Set<String> right = new LinkedHashSet<>();
    given.forEach(g -> {
      answers.add(g.answer());
      answers.addAll(g.offered());
      right.addAll(g.right());
    });
    List<Distractor> found = new ArrayList<>();
    answers.forEach(answer -> found.add(of(answer, right.contains(answer), given)));
    found.sort(Comparator.comparing((Distractor d) -> !d.right()).thenComparing(Comparator.comparingInt(Distractor::chosen).reversed())
        .thenComparing(Distractor::answer));
    return found;
  }

  private static Distractor of(String answer, boolean right, List<Given> given) {
    List<Given> could =
        given.stream().filter(g -> g.offered().isEmpty() || g.offered().contains(answer) || g.answer().equals(answer)).toList();
    List<Given> did = could.stream().filter(g -> g.answer().equals(answer)).toList();
    return new Distractor(
        answer, right, could.size(), did.size(), did.stream().flatMapToDouble(g -> g.rest().stream()).average(),
        correlation(answer, could), given.stream().anyMatch(g -> g.offered().contains(answer)));
  }

  private static OptionalDouble correlation(String answer, List<Given> could) {
    List<Given> placed = could.stream().filter(g -> g.rest().isPresent()).toList();
    double[] chose = placed.stream().mapToDouble(g -> g.answer().equals(answer) ? 1 : 0).toArray();
    double[] rest = placed.stream().mapToDouble(g -> g.rest().getAsDouble()).toArray();
    boolean varies = Arrays.stream(chose).distinct().count() > 1 && Arrays.stream(rest).distinct().count() > 1;
    return placed.size() < FEWEST_TO_CORRELATE || !varies
        ? OptionalDouble.empty() : OptionalDouble.of(new PearsonsCorrelation().correlation(chose, rest));
  }
}
