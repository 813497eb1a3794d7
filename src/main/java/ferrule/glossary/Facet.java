package ferrule.glossary;

import java.util.List;
import java.util.Optional;

/**
 * A question that qualifiers answer, such as "which valve" with the values first, second and third. Its words are
 * written once, here, and serve every part that the facet qualifies.
 *
 * @param id the facet's id, such as {@code valve}
 * @param title the question in words, such as "which valve"
 * @param values the possible answers, at least two
 */
public record Facet(String id, String title, List<Value> values) {

  /**
   * One answer to the facet's question.
   *
   * @param id the value's id within the facet, such as {@code first}
   * @param term the preferred word, such as "first"
   * @param also other words for it, such as "1st", "#1", "no. 1"
   */
  public record Value(String id, String term, List<String> also) {

    /** Copies the list. */
    public Value {
      also = List.copyOf(also);
    }
  }

  /** Copies the list and checks that there is a choice. */
  public Facet {
    values = List.copyOf(values);
    if (values.size() < 2) {
      throw new IllegalArgumentException("facet " + id + " needs at least two values, given " + values.size());
    }
  }

  /** The value with this id, if the facet has it. */
  public Optional<Value> value(String valueId) {
    return values.stream().filter(v -> v.id().equals(valueId)).findFirst();
  }
}
