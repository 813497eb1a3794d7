package ferrule.drawing;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Map;

/** The named dimensions of a model, most of them in millimetres; each may be a formula of others. */
public final class Dimensions {

  private final Map<String, String> formulas;
  private final Map<String, String> sources;
  private final Map<String, Double> known = new HashMap<>();
  private final Deque<String> open = new ArrayDeque<>();

  /**
   * Dimensions with these formulas.
   *
   * @param sources where each comes from, in words, by the same names
   */
  Dimensions(Map<String, String> formulas, Map<String, String> sources) {
    this.formulas = new LinkedHashMap<>(formulas);
    this.sources = Map.copyOf(sources);
  }

  /** The names, in the order of the file. */
  public java.util.Set<String> names() {
    return java.util.Collections.unmodifiableSet(formulas.keySet());
  }

  /** Where a dimension comes from, in words. */
  public String source(String name) {
    return sources.getOrDefault(name, "");
  }

  /**
   * The value of a dimension.
   *
   * @throws IllegalArgumentException if there is none of this name, or it depends on itself, or its formula is wrong
   */
  public synchronized double get(String name) {
    Double value = known.get(name);
    if (value != null) {
      return value;
    }
    if (!formulas.containsKey(name)) {
      throw new IllegalArgumentException("expected the name of a dimension, found '" + name + "'");
    }
    if (open.contains(name)) {
      throw new IllegalArgumentException("dimension '" + name + "' depends on itself");
    }
    open.push(name);
    try {
      double found = Expression.evaluate(formulas.get(name), this::get);
      known.put(name, found);
      return found;
    } finally {
      open.pop();
    }
  }
}
