package ferrule.report;

import ferrule.competency.Competency;
import ferrule.competency.Programme;
import ferrule.competency.Requirement;
import java.util.List;
import java.util.Set;

/** Which competencies of a programme wait for which others, found by asking of each whether it can be done without. */
record PlainOrder(Programme programme) {

  /** Whether a rule can be met if everything can be done but one competency. */
  private boolean canBeMet(Requirement rule, Set<String> complete, String never) {
    if (rule instanceof Requirement.Holds h) {
      return complete.contains(h.competency())
          || (!h.competency().equals(never)
              && canBeMet(programme.find(h.competency()).orElseThrow().requires(), complete, never));
    }
    if (rule instanceof Requirement.AllOf all) {
      return all.parts().stream().allMatch(r -> canBeMet(r, complete, never));
    }
    if (rule instanceof Requirement.AtLeast some) {
      return some.parts().stream().filter(r -> canBeMet(r, complete, never)).count() >= some.count();
    }
    return true;
  }

  /** The ids of those that cannot be completed before another one. */
  List<String> waiting(Set<String> complete, String first) {
    return programme.competencies().stream()
        .filter(d -> !d.id().equals(first) && !complete.contains(d.id()) && !canBeMet(d.requires(), complete, first))
        .map(Competency::id).toList();
  }

  /** Whether a competency waits for no other. */
  boolean isReady(Set<String> complete, Competency c) {
    return programme.competencies().stream()
        .noneMatch(before -> !complete.contains(before.id()) && waiting(complete, before.id()).contains(c.id()));
  }
}
