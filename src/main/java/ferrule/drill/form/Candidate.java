package ferrule.drill.form;

/**
 * Something that could be asked in a form.
 *
 * @param <T> what an item is to the caller
 * @param item what would be asked
 * @param once what it is about: a form asks only once about the same, because one item would answer the other
 * @param chance the chance that it is answered right, from 0 to 1: its expected score
 * @param weight how much it is wanted beside others, above 0; one with weight 2 is drawn like one that is there twice
 */
public record Candidate<T>(T item, String once, double chance, double weight) {

  /** Checks the ranges. */
  public Candidate {
    if (!(chance >= 0 && chance <= 1)) {
      throw new IllegalArgumentException("a chance is from 0 to 1; given: " + chance);
    }
    if (!(weight > 0 && weight < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("a weight is above 0; given: " + weight);
    }
  }
}
