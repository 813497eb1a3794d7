package ferrule.report.items;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.RealMatrix;

/**
 * How hard items are in the Rasch model: the log odds that a person answers right are the person's ability less the item's
 * difficulty. Unlike the share of right answers it does not depend on who was asked, so that items asked of different
 * persons can be compared.
 *
 * <p>Estimated by conditional maximum likelihood, in which the abilities drop out (E. B. Andersen, Asymptotic properties of
 * conditional maximum-likelihood estimators, 1970; G. H. Fischer, Einführung in die Theorie psychologischer Tests, 1974):
 * given a person's number r of right answers among the items asked, an item with easiness e_i = exp(-b_i) is right with
 * the probability e_i g(r - 1, without i) / g(r), where g(r) is the elementary symmetric function of order r of the
 * easinesses. Solved by Newton's method.
 *
 * @param difficulties one for each item, in log odds; their mean is 0
 * @param standardErrors one for each item
 * @param logLikelihood the logarithm of the conditional likelihood
 */
public record RaschScale(List<Double> difficulties, List<Double> standardErrors, double logLikelihood) {

  private static final int MOST_STEPS = 60;
  private static final double CLOSE = 1e-9;
  private static final double LONGEST_STEP = 1;
  private static final double APART = 1e-3;

  /** Copies the lists. */
  public RaschScale {
    difficulties = List.copyOf(difficulties);
    standardErrors = List.copyOf(standardErrors);
  }

  /** Persons who were asked the same items and had the same number right: the abilities of all are alike to the model. */
  private record Group(List<Integer> items, int right) {

    private static Map<Group, Integer> counted(Scores scores) {
      Map<Group, Integer> counts = new LinkedHashMap<>();
      for (int person = 0; person < scores.persons(); person++) {
        if (isTelling(scores, person)) {
          counts.merge(new Group(askedOf(scores, person), rightOf(scores, person)), 1, Integer::sum);
        }
      }
      return counts;
    }
  }

  private static List<Integer> askedOf(Scores scores, int person) {
    return IntStream.range(0, scores.items()).filter(item -> scores.asked(person, item)).boxed().toList();
  }

  private static int rightOf(Scores scores, int person) {
    return (int) Math.round(scores.total(person));
  }

  /** All right or all wrong tells nothing of the items. */
  private static boolean isTelling(Scores scores, int person) {
    int right = rightOf(scores, person);
    return right > 0 && right < askedOf(scores, person).size();
  }

  /**
   * Fits the model.
   *
   * @param scores each 0 or 1
   * @return empty if the answers do not determine the difficulties: an item was never answered right or never wrong by those
   *     that tell anything, or items fall into sets that nobody's answers compare
   * @throws IllegalArgumentException if a score is neither 0 nor 1
   */
  public static Optional<RaschScale> fit(Scores scores) {
    double[] right = rightAnswers(scores);
    Map<Group, Integer> groups = Group.counted(scores);
    if (scores.items() < 2 || !isDetermined(scores)) {
      return Optional.empty();
    }
    double[] b = logOddsOfWrong(scores);
    for (int step = 0; step < MOST_STEPS; step++) {
      Sums sums = new Sums(b, groups);
      double[] change = newton(sums, right);
      for (int i = 0; i < b.length; i++) {
        b[i] += change[i];
      }
      if (Arrays.stream(change).map(Math::abs).max().orElse(0) < CLOSE) {
        return Optional.of(scale(b, right, groups));
      }
    }
    return Optional.empty();
  }

  /** Where the search begins: the log odds of a wrong answer, about their mean. */
  private static double[] logOddsOfWrong(Scores scores) {
    double[] b = new double[scores.items()];
    for (int item = 0; item < b.length; item++) {
      double[] own = scores.onItem(item);
      double right = Arrays.stream(own).sum();
      b[item] = Math.log((own.length - right + 0.5) / (right + 0.5));
    }
    double mean = Arrays.stream(b).average().orElse(0);
    return Arrays.stream(b).map(d -> d - mean).toArray();
  }

  private static double[] rightAnswers(Scores scores) {
    double[] right = new double[scores.items()];
    for (int person = 0; person < scores.persons(); person++) {
      boolean telling = isTelling(scores, person);
      for (int item = 0; item < right.length; item++) {
        if (scores.asked(person, item)) {
          double score = scores.score(person, item);
          if (score != 0 && score != 1) {
            throw new IllegalArgumentException("the model is of answers that are right or wrong; given: " + score);
          }
          right[item] += telling ? score : 0;
        }
      }
    }
    return right;
  }

  /**
   * Fischer's condition (1981): draw an arrow from item i to j if somebody had i right and j wrong; the estimates exist and
   * are unique if and only if every item can be reached from every other.
   */
  private static boolean isDetermined(Scores scores) {
    int k = scores.items();
    boolean[][] beats = new boolean[k][k];
    for (int person = 0; person < scores.persons(); person++) {
      for (int i = 0; i < k; i++) {
        for (int j = 0; j < k; j++) {
          beats[i][j] |= scores.score(person, i) == 1 && scores.score(person, j) == 0;
        }
      }
    }
    return reached(beats, false) == k && reached(beats, true) == k;
  }

  private static int reached(boolean[][] beats, boolean backward) {
    List<Integer> found = new ArrayList<>(List.of(0));
    for (int at = 0; at < found.size(); at++) {
      for (int next = 0; next < beats.length; next++) {
        boolean arrow = backward ? beats[next][found.get(at)] : beats[found.get(at)][next];
        if (arrow && !found.contains(next)) {
          found.add(next);
        }
      }
    }
    return found.size();
  }

  /** What the model expects at some difficulties: right answers, their covariances, and the logarithms of g. */
  private static final class Sums {
    private final double[] expected;
    private final double[][] information;
    private double logOfG;

    Sums(double[] b, Map<Group, Integer> groups) {
      expected = new double[b.length];
      information = new double[b.length][b.length];
      groups.forEach((key, count) -> add(b, key, count));
    }

    private void add(double[] b, Group key, int count) {
      int k = key.items().size();
      double[] easiness = key.items().stream().mapToDouble(i -> Math.exp(-b[i])).toArray();
      double g = symmetric(easiness, -1, -1)[key.right()];
      logOfG += count * Math.log(g);
      double[] chance = new double[k];
      double[] without = new double[k];
      for (int i = 0; i < k; i++) {
        without[i] = symmetric(easiness, i, -1)[key.right() - 1];
        chance[i] = easiness[i] * without[i] / g;
        expected[key.items().get(i)] += count * chance[i];
        information[key.items().get(i)][key.items().get(i)] += count * chance[i] * (1 - chance[i]);
      }
      for (int i = 0; i < k; i++) {
        for (int j = 0; j < i; j++) {
          double both = key.right() < 2 ? 0
              : easiness[i] * easiness[j] * withoutBoth(easiness, without, i, j, key.right()) / g;
          double shared = count * (both - chance[i] * chance[j]);
          information[key.items().get(i)][key.items().get(j)] += shared;
          information[key.items().get(j)][key.items().get(i)] += shared;
        }
      }
    }
  }

  /**
   * The function of order r - 2 without two items, from those of order r - 1 without either: their difference is it times the
   * difference of the easinesses. By summation where these are too close for that.
   */
  private static double withoutBoth(double[] easiness, double[] without, int i, int j, int r) {
    double apart = easiness[j] - easiness[i];
    return Math.abs(apart) > APART * (easiness[i] + easiness[j])
        ? (without[i] - without[j]) / apart : symmetric(easiness, i, j)[r - 2];
  }

  /** The elementary symmetric functions of all orders of some numbers, without two of them; by summation, which is stable. */
  private static double[] symmetric(double[] of, int without, int orThis) {
    double[] g = new double[of.length + 1];
    g[0] = 1;
    int count = 0;
    for (int i = 0; i < of.length; i++) {
      if (i != without && i != orThis) {
        count++;
        for (int r = count; r > 0; r--) {
          g[r] += of[i] * g[r - 1];
        }
      }
    }
    return g;
  }

  /** The covariances of the estimates whose mean is held at 0. */
  private static RealMatrix covariances(Sums sums) {
    int k = sums.expected.length;
    RealMatrix information = new Array2DRowRealMatrix(sums.information, true);
    RealMatrix mean = new Array2DRowRealMatrix(k, k).scalarAdd(1.0 / k);
    return new LUDecomposition(information.add(mean)).getSolver().getInverse().subtract(mean);
  }

  private static double[] newton(Sums sums, double[] right) {
    double[] excess = new double[right.length];
    for (int i = 0; i < right.length; i++) {
      excess[i] = sums.expected[i] - right[i];
    }
    double[] change = covariances(sums).operate(excess);
    double longest = Arrays.stream(change).map(Math::abs).max().orElse(0);
    double share = longest > LONGEST_STEP ? LONGEST_STEP / longest : 1;
    return Arrays.stream(change).map(c -> c * share).toArray();
  }

  private static RaschScale scale(double[] b, double[] right, Map<Group, Integer> groups) {
    Sums sums = new Sums(b, groups);
    RealMatrix covariances = covariances(sums);
    List<Double> errors = new ArrayList<>();
    double logLikelihood = -sums.logOfG;
    for (int i = 0; i < b.length; i++) {
      errors.add(Math.sqrt(covariances.getEntry(i, i)));
      logLikelihood -= right[i] * b[i];
    }
    return new RaschScale(Arrays.stream(b).boxed().toList(), errors, logLikelihood);
  }
}
