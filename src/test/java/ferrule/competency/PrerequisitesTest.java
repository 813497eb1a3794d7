package ferrule.competency;

import static org.junit.jupiter.api.Assertions.assertEquals;

import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Random;
import java.util.Set;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;

class PrerequisitesTest {

  private static final Requirement WORK =
      new Requirement.Signed(TaskId.of("keys"), "Keys", Standing.SOUND, 1, 1, 1);

  private static Requirement holds(String id) {
    return new Requirement.Holds(id, id);
  }

  private static Programme programme(Requirement... rules) {
    List<Competency> competencies = new ArrayList<>();
    for (int i = 0; i < rules.length; i++) {
      competencies.add(new Competency("c" + i, "C" + i, "Does " + i, OptionalInt.empty(), rules[i]));
    }
    return new Programme("p", "P", "e", "text", List.of(new Area("a", "A", competencies)));
  }

  @Test
  void whatStandsAtTheEndOfAChainWaitsForAllOfIt() {
    Prerequisites chain = Prerequisites.of(programme(WORK, holds("c0"), new Requirement.AllOf(List.of(holds("c1"), WORK))));
    assertEquals(Map.of("c0", Set.of("c1", "c2"), "c1", Set.of("c2"), "c2", Set.of()), chain.waiting(Set.of()));
    assertEquals(Set.of("c0", "c1"), chain.missing(Set.of()).get("c2"));
  }

  @Test
  void priorLearningInTheMiddleOfAChainOpensWhatIsBehindIt() {
    Prerequisites chain = Prerequisites.of(programme(WORK, holds("c0"), holds("c1")));
    assertEquals(Map.of("c0", Set.of(), "c2", Set.of()), chain.waiting(Set.of("c1")));
  }

  @Test
  void nothingWaitsForWhatAChoiceLeadsRound() {
    Requirement either = new Requirement.AtLeast(1, List.of(holds("c0"), WORK));
    Requirement both = new Requirement.AtLeast(1, List.of(holds("c0"), holds("c1")));
    Prerequisites choices = Prerequisites.of(programme(WORK, holds("c0"), either, both));
    assertEquals(Set.of("c1", "c3"), choices.waiting(Set.of()).get("c0"), "both of the last one's choices need the first");
  }

  // -- against the meaning itself, tried out

  private static Requirement rule(Random random, int depth, int mayAskFor) {
    int sort = random.nextInt(depth == 0 ? 4 : 8);
    if (mayAskFor == 0 || sort == 0) {
      return WORK;
    }
    if (sort < 4) {
      return holds("c" + random.nextInt(mayAskFor));
    }
    List<Requirement> parts = new ArrayList<>();
    for (int i = random.nextInt(3); i >= 0; i--) {
      parts.add(rule(random, depth - 1, mayAskFor));
    }
    return random.nextBoolean() ? new Requirement.AllOf(parts)
        : new Requirement.AtLeast(1 + random.nextInt(parts.size()), parts);
  }

  /** Whether a rule can be met if everything can be done but one competency. */
  private static boolean canBeMet(Programme p, Requirement rule, Set<String> complete, String never) {
    if (rule instanceof Requirement.Holds h) {
      return complete.contains(h.competency())
          || (!h.competency().equals(never)
              && canBeMet(p, p.find(h.competency()).orElseThrow().requires(), complete, never));
    }
    if (rule instanceof Requirement.AllOf all) {
      return all.parts().stream().allMatch(r -> canBeMet(p, r, complete, never));
    }
    if (rule instanceof Requirement.AtLeast some) {
      return some.parts().stream().filter(r -> canBeMet(p, r, complete, never)).count() >= some.count();
    }
    return true;
  }

  @Property(tries = 2_000)
  void oneWaitsForAnotherIfAndOnlyIfItCannotBeDoneWithoutIt(@ForAll long seed) {
    Random random = new Random(seed);
    Requirement[] rules = new Requirement[7];
    for (int i = 0; i < rules.length; i++) {
      rules[i] = rule(random, 2, i);
    }
    Programme p = programme(rules);
    Set<String> complete = new HashSet<>();
    p.competencies().stream().filter(c -> random.nextInt(4) == 0).forEach(c -> complete.add(c.id()));
    Map<String, Set<String>> waiting = Prerequisites.of(p).waiting(complete);
    for (Competency first : p.competencies()) {
      if (complete.contains(first.id())) {
        continue;
      }
      Set<String> expected = new LinkedHashSet<>();
      for (Competency later : p.competencies()) {
        boolean open = !complete.contains(later.id()) && later != first;
        if (open && !canBeMet(p, later.requires(), complete, first.id())) {
          expected.add(later.id());
        }
      }
      assertEquals(expected, waiting.get(first.id()), () -> p.competencies() + " complete " + complete);
    }
  }
}
