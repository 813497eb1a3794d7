package ferrule.competency;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Which competencies wait for which others.
 *
 * <p>One waits for another if it cannot be completed, whatever else is done, as long as the other is not: the rule
 * {@code holds} names it, in a place that no choice leads round, or names one that waits for it. What is complete waits
 * for nothing and passes nothing on: prior learning in the middle of a chain opens all behind it.
 */
public final class Prerequisites {

  private final Map<String, Competency> competencies = new LinkedHashMap<>();

  private Prerequisites(Programme programme) {
    programme.competencies().forEach(c -> competencies.put(c.id(), c));
  }

  /** Those of a programme. */
  public static Prerequisites of(Programme programme) {
    return new Prerequisites(programme);
  }

  /**
   * For each competency that is not complete, those that must be complete before it can be; in the order of the
   * programme.
   *
   * @param complete the ids of those that are complete
   */
  public Map<String, Set<String>> missing(Set<String> complete) {
    Map<String, Set<String>> known = new HashMap<>();
    Map<String, Set<String>> missing = new LinkedHashMap<>();
    competencies.keySet().stream().filter(c -> !complete.contains(c))
        .forEach(c -> missing.put(c, missing(c, complete, known)));
    return missing;
  }

  /** For each competency that is not complete, those that wait for it; both in the order of the programme. */
  public Map<String, Set<String>> waiting(Set<String> complete) {
    Map<String, Set<String>> waiting = new LinkedHashMap<>();
    Map<String, Set<String>> missing = missing(complete);
    missing.keySet().forEach(c -> waiting.put(c, new LinkedHashSet<>()));
    missing.forEach((later, before) -> before.forEach(c -> waiting.get(c).add(later)));
    return waiting;
  }

  private Set<String> missing(String competency, Set<String> complete, Map<String, Set<String>> known) {
    Set<String> found = known.get(competency);
    if (found == null) {
      found = missing(competencies.get(competency).requires(), complete, known);
      known.put(competency, found);
    }
    return found;
  }

  private Set<String> missing(Requirement rule, Set<String> complete, Map<String, Set<String>> known) {
    if (rule instanceof Requirement.Holds holds) {
      return complete.contains(holds.competency()) ? Set.of() : andItself(holds.competency(), complete, known);
    }
    if (rule instanceof Requirement.AllOf all) {
      return askedByMoreThan(0, all.parts(), complete, known);
    }
    if (rule instanceof Requirement.AtLeast some) {
      // as long as enough of the parts can do without it, the rule can
      return askedByMoreThan(some.parts().size() - some.count(), some.parts(), complete, known);
    }
    return Set.of();
  }

  private Set<String> andItself(String competency, Set<String> complete, Map<String, Set<String>> known) {
    Set<String> all = new LinkedHashSet<>(missing(competency, complete, known));
    all.add(competency);
    return all;
  }

  private Set<String> askedByMoreThan(
      int spare, List<Requirement> parts, Set<String> complete, Map<String, Set<String>> known) {
    Map<String, Integer> asking = new LinkedHashMap<>();
    parts.forEach(part -> missing(part, complete, known).forEach(c -> asking.merge(c, 1, Integer::sum)));
    Set<String> asked = new LinkedHashSet<>();
    asking.forEach((competency, times) -> {
      if (times > spare) {
        asked.add(competency);
      }
    });
    return asked;
  }
}
