package ferrule.drill.form;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;

/**
 * Forms of one table of specifications that are equally hard.
 *
 * <p>Each form is first drawn by lot, cell by cell, without putting back and with the candidates' weights; then items are
 * exchanged for others of the same cell until the score to expect is that of the table, to within half of what two forms
 * may differ by. So any two forms differ by no more, and no form needs to know the others. To match strata by content and
 * forms by difficulty is the old method of matched random subtests (H. Gulliksen, Theory of Mental Tests, 1950, chapter
 * 15); that the sum of the chances is the score to expect is the test characteristic of item response theory (F. M. Lord,
 * Applications of Item Response Theory, 1980, chapter 4). Both from memory.
 *
 * <p>The same cells, number and seed give the same form.
 *
 * @param <T> what an item is to the caller
 */
public final class ParallelForms<T> {

  /** By how much of the highest score the expected scores of two forms may differ. */
  public static final double TOLERANCE = 0.01;

  private static final int TRIES = 8;

  private final List<Cell<T>> cells;
  private final double target;
  private final double within;

  /** Forms of this table. */
  public ParallelForms(List<Cell<T>> cells) {
    this.cells = List.copyOf(cells);
    this.target = this.cells.stream().mapToDouble(Cell::expected).sum();
    this.within = TOLERANCE / 2 * this.cells.stream().mapToInt(Cell::number).sum();
  }

  /**
   * Whether every cell can be filled without asking twice about the same. If not, forms have as many items as there can be.
   */
  public boolean isEnough() {
    return new Draw<>(cells, new SplittableRandom(0)).isFull();
  }

  /**
   * One of the forms. If the table leaves so little choice that none of {@value #TRIES} draws comes within the tolerance,
   * it is the nearest that was found: compare {@link Form#expected}.
   *
   * @param number which one, from 0: 0 is form A
   * @param seed that all forms of one occasion share
   */
  public Form<T> form(int number, long seed) {
    SplittableRandom random = new SplittableRandom(seed + number * 0x9E3779B97F4A7C15L);
    Form<T> best = null;
    for (int i = 0; i < TRIES && (best == null || off(best) > within); i++) {
      Draw<T> draw = new Draw<>(cells, random);
      draw.approach(target, within);
      Form<T> found = draw.form();
      best = best == null || off(found) < off(best) ? found : best;
    }
    return best;
  }

  /** So many forms, A, B, C and so on. */
  public List<Form<T>> forms(int count, long seed) {
    List<Form<T>> forms = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      forms.add(form(i, seed));
    }
    return List.copyOf(forms);
  }

  private double off(Form<T> form) {
    return Math.abs(form.expected() - target);
  }
}
