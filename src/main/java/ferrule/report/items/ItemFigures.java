package ferrule.report.items;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import org.hipparchus.stat.correlation.PearsonsCorrelation;

/**
 * What classical test theory says of an item.
 *
 * @param asked how many persons were asked it
 * @param difficulty the mean score, from 0 (nobody has it right) to 1; 0 if it was asked of nobody. By old custom it is
 *     called difficulty, though an easy item has the larger figure
 * @param discrimination the corrected item-total correlation: of the score on the item with the mean score on the other
 *     items that the person was asked (S. Henrysson, Correction of item-total correlations in item analysis, 1963: the item
 *     itself is left out of the total). Empty where one of the two does not vary
 */
public record ItemFigures(int asked, double difficulty, OptionalDouble discrimination) {

  private static final int FEWEST_TO_CORRELATE = 3;

  /** The figures of an item. */
  public static ItemFigures of(Scores scores, int item) {
    double[] own = scores.onItem(item);
    return new ItemFigures(own.length, Arrays.stream(own).average().orElse(0), discrimination(scores, item));
  }

  /** The figures of each item, in their order. */
  public static List<ItemFigures> each(Scores scores) {
    List<ItemFigures> figures = new ArrayList<>();
    for (int item = 0; item < scores.items(); item++) {
      figures.add(of(scores, item));
    }
    return figures;
  }

  private static OptionalDouble discrimination(Scores scores, int item) {
    List<double[]> pairs = new ArrayList<>();
    for (int person = 0; person < scores.persons(); person++) {
      OptionalDouble rest = scores.restOf(person, item);
      if (scores.asked(person, item) && rest.isPresent()) {
        pairs.add(new double[] {scores.score(person, item), rest.getAsDouble()});
      }
    }
    if (pairs.size() < FEWEST_TO_CORRELATE || isConstant(pairs, 0) || isConstant(pairs, 1)) {
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(
        new PearsonsCorrelation()
            .correlation(
                pairs.stream().mapToDouble(p -> p[0]).toArray(), pairs.stream().mapToDouble(p -> p[1]).toArray()));
  }

  private static boolean isConstant(List<double[]> pairs, int which) {
    return pairs.stream().mapToDouble(p -> p[which]).distinct().count() < 2;
  }
}
