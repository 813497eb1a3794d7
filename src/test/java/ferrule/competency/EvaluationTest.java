package ferrule.competency;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.bench.SignedWork;
import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;

class EvaluationTest {

  private static final UUID APPRENTICE = new UUID(0, 1);
  private static final List<TaskId> TASKS = List.of(TaskId.of("keys"), TaskId.of("slides"), TaskId.of("valves"));
  private static final List<ConceptId> ASSEMBLIES = List.of(ConceptId.of("bell"), ConceptId.of("leadpipe"));
  private static final int PARTS = 5;

  private int serial;

  private SignedWork work(TaskId task, Standing standing, String tag, int instructor) {
    serial++;
    return new SignedWork(
        new UUID(1, serial), serial, APPRENTICE, task, tag, new UUID(2, instructor), "Invented " + instructor,
        Instant.parse("2026-09-01T18:00:00Z").plusSeconds(serial), standing);
  }

  private static Requirement.Signed signed(int times, int instruments, int instructors) {
    return new Requirement.Signed(TASKS.get(0), "Water keys", Standing.SOUND, times, instruments, instructors);
  }

  private static Verdict verdict(Requirement rule, List<SignedWork> works) {
    return Evaluation.of(rule, new Evidence(works, assembly -> new PartsNamed(0, PARTS)));
  }

  @Test
  void oneMoreOnASecondInstrumentByAnotherInstructor() {
    Verdict verdict = verdict(
        signed(3, 2, 2),
        List.of(work(TASKS.get(0), Standing.SOUND, "T-01", 1), work(TASKS.get(0), Standing.FINE, "T-01", 1)));
    assertEquals(
        "Missing: one more sign-off of “Water keys”, on a second instrument, by another instructor.",
        verdict.sentence());
    assertEquals(2, verdict.works().size());
    assertTrue(verdict.isBegun());
  }

  @Test
  void whatIsMissingIsSaidSoThatAnApprenticeUnderstands() {
    assertEquals("Missing: one sign-off of “Water keys”.", verdict(signed(1, 1, 1), List.of()).sentence());
    assertEquals(
        "Missing: three sign-offs of “Water keys”, on two different instruments, by two different instructors.",
        verdict(signed(3, 2, 2), List.of()).sentence());
    assertEquals(
        "Missing: two more sign-offs of “Water keys”, one of them on a second instrument, one of them by another "
            + "instructor.",
        verdict(signed(3, 2, 2), List.of(work(TASKS.get(0), Standing.SOUND, "T-01", 1))).sentence());
    assertEquals(
        "Complete.", verdict(signed(1, 1, 1), List.of(work(TASKS.get(0), Standing.SOUND, "T-01", 1))).sentence());
    Requirement.Names names = new Requirement.Names(ASSEMBLIES.get(0), "bell", 80);
    assertEquals(
        "Missing: 2 more names of the parts of the bell (2 of 5 right by now, 4 needed).",
        Evaluation.of(names, new Evidence(List.of(), a -> new PartsNamed(2, PARTS))).sentence());
  }

  @Test
  void workThatDoesNotMeetTheStandardDoesNotCount() {
    Verdict verdict = verdict(signed(1, 1, 1), List.of(work(TASKS.get(0), Standing.NOT_YET, "T-01", 1)));
    assertFalse(verdict.isMet());
    assertEquals(List.of(), verdict.works());
  }

  @Test
  void enoughSignOffsOnOneInstrumentAskForOneOnAnother() {
    List<SignedWork> works = List.of(
        work(TASKS.get(0), Standing.SOUND, "T-01", 1), work(TASKS.get(0), Standing.SOUND, "T-01", 2),
        work(TASKS.get(0), Standing.SOUND, "T-01", 1));
    assertEquals(
        "Missing: one more sign-off of “Water keys”, on a second instrument.", verdict(signed(3, 2, 2), works).sentence());
  }

  @Test
  void theShorterWayIsTold() {
    Requirement rule = new Requirement.AtLeast(
        1,
        List.of(
            signed(3, 1, 1),
            new Requirement.Signed(TASKS.get(1), "Slides", Standing.FINE, 1, 1, 1)));
    assertEquals("Missing: one sign-off of “Slides” as fine.", verdict(rule, List.of()).sentence());
  }

  @Test
  void oneSignOffServesEveryRuleOfItsTask() {
    Requirement rule = new Requirement.AllOf(
        List.of(signed(2, 1, 1), new Requirement.Signed(TASKS.get(0), "Water keys", Standing.SOUND, 1, 2, 1)));
    assertEquals(
        "Missing: two sign-offs of “Water keys”, on two different instruments.", verdict(rule, List.of()).sentence());
  }

  @Test
  void theShareOfNamesIsRoundedUp() {
    // 80 % of 7 parts is 5.6: six of them
    assertEquals(6, new Requirement.Names(ASSEMBLIES.get(0), "bell", 80).needed(7));
    assertEquals(4, new Requirement.Names(ASSEMBLIES.get(0), "bell", 80).needed(5));
    assertEquals(1, new Requirement.Names(ASSEMBLIES.get(0), "bell", 1).needed(5));
  }

  /** A random case: a rule, works, and parts named by assembly. */
  private final class Case {
    private final Random random;
    final Requirement rule;
    final List<SignedWork> works = new ArrayList<>();
    final Map<ConceptId, Integer> named = new HashMap<>();

    Case(long seed) {
      random = new Random(seed);
      rule = rule(3);
      int count = random.nextInt(6);
      for (int i = 0; i < count; i++) {
        works.add(work(any(TASKS), any(List.of(Standing.values())), "T-0" + random.nextInt(3), random.nextInt(3)));
      }
      ASSEMBLIES.forEach(a -> named.put(a, random.nextInt(PARTS + 1)));
    }

    private <V> V any(List<V> values) {
      return values.get(random.nextInt(values.size()));
    }

    private Requirement rule(int depth) {
      int sort = random.nextInt(depth == 0 ? 2 : 5);
      if (sort == 0) {
        ConceptId assembly = any(ASSEMBLIES);
        return new Requirement.Names(assembly, assembly.value(), 1 + random.nextInt(100));
      }
      if (sort <= 2) {
        TaskId task = any(TASKS);
        return new Requirement.Signed(
            task, task.value(), random.nextBoolean() ? Standing.SOUND : Standing.FINE, 1 + random.nextInt(3),
            1 + random.nextInt(3), 1 + random.nextInt(2));
      }
      List<Requirement> parts = new ArrayList<>();
      int size = 1 + random.nextInt(3);
      for (int i = 0; i < size; i++) {
        parts.add(rule(depth - 1));
      }
      return sort == 3 ? new Requirement.AllOf(parts) : new Requirement.AtLeast(1 + random.nextInt(size), parts);
    }

    Verdict verdict() {
      return Evaluation.of(rule, new Evidence(works, a -> new PartsNamed(named.get(a), PARTS)));
    }
  }

  /** The rules as they are written, evaluated without any thought for speed or for what is missing. */
  private static boolean holds(Requirement rule, List<SignedWork> works, Map<ConceptId, Integer> named) {
    if (rule instanceof Requirement.AllOf all) {
      return all.parts().stream().allMatch(p -> holds(p, works, named));
    }
    if (rule instanceof Requirement.AtLeast some) {
      return some.parts().stream().filter(p -> holds(p, works, named)).count() >= some.count();
    }
    if (rule instanceof Requirement.Names names) {
      return named.get(names.assembly()) * 100 >= names.percent() * PARTS;
    }
    Requirement.Signed signed = (Requirement.Signed) rule;
    Set<String> tags = new HashSet<>();
    Set<UUID> instructors = new HashSet<>();
    int times = 0;
    for (SignedWork w : works) {
      if (w.task().equals(signed.task()) && w.standing().compareTo(signed.standing()) >= 0) {
        times++;
        tags.add(w.tag());
        instructors.add(w.instructor());
      }
    }
    return times >= signed.times() && tags.size() >= signed.instruments() && instructors.size() >= signed.instructors();
  }

  /** The fewest further sign-offs and assemblies that would do, by trying all: each as good and as new as can be. */
  private int fewest(Case c) {
    int fewest = Integer.MAX_VALUE;
    for (int code = 0; code < 5 * 5 * 5 * 4; code++) {
      int[] more = {code % 5, code / 5 % 5, code / 25 % 5};
      int learned = code / 125;
      int cost = more[0] + more[1] + more[2] + Integer.bitCount(learned);
      List<SignedWork> works = new ArrayList<>(c.works);
      Map<ConceptId, Integer> named = new HashMap<>(c.named);
      for (int t = 0; t < 3; t++) {
        for (int i = 0; i < more[t]; i++) {
          works.add(work(TASKS.get(t), Standing.FINE, "new-" + t + i, 100 + i));
        }
      }
      for (int a = 0; a < 2; a++) {
        if ((learned >> a & 1) == 1) {
          named.put(ASSEMBLIES.get(a), PARTS);
        }
      }
      if (cost < fewest && holds(c.rule, works, named)) {
        fewest = cost;
      }
    }
    return fewest;
  }

  @Property(tries = 400)
  void agreesWithTryingAll(@ForAll long seed) {
    Case c = new Case(seed);
    Verdict verdict = c.verdict();
    assertEquals(holds(c.rule, c.works, c.named), verdict.isMet(), () -> c.rule + " " + c.works);
    assertEquals(fewest(c), Evaluation.cost(verdict.missing()), () -> c.rule + " " + verdict.sentence());
  }

  /** Exactly what a gap asks for, and nothing better: known instruments and instructors as far as it allows them. */
  private void grant(Gap gap, List<SignedWork> works, Map<ConceptId, Integer> named) {
    if (gap instanceof Gap.Names names) {
      named.merge(names.assembly(), names.needed(), Math::max);
      return;
    }
    Gap.SignOffs s = (Gap.SignOffs) gap;
    List<SignedWork> counting = works.stream()
        .filter(w -> w.task().equals(s.task()) && w.standing().isAtLeast(s.standing())).toList();
    for (int i = 0; i < s.more(); i++) {
      SignedWork known = counting.isEmpty() ? null : counting.get(0);
      String tag = i < s.newInstruments() || known == null ? "granted-" + s.standing() + "-" + (i < s.newInstruments() ? i : 0)
          : known.tag();
      int instructor = 500 + (i < s.newInstructors() ? i : 0) + (s.standing() == Standing.FINE ? 50 : 0);
      SignedWork granted = work(s.task(), s.standing(), tag, instructor);
      works.add(i < s.newInstructors() || known == null ? granted : new SignedWork(
          granted.record(), granted.number(), APPRENTICE, s.task(), tag, known.instructor(), known.instructorName(),
          granted.gradedAt(), s.standing()));
    }
  }

  @Property(tries = 5_000)
  void grantingExactlyWhatIsMissingCompletesIt(@ForAll long seed) {
    Case c = new Case(seed);
    Verdict before = c.verdict();
    before.missing().forEach(gap -> grant(gap, c.works, c.named));
    Verdict after = c.verdict();
    assertTrue(after.isMet(), () -> before.sentence() + " then " + after.sentence() + " of " + c.rule);
    assertTrue(holds(c.rule, c.works, c.named));
  }

  @Property(tries = 2_000)
  void moreGoodEvidenceNeverLosesACompetency(@ForAll long seed) {
    Case c = new Case(seed);
    Verdict before = c.verdict();
    c.works.add(work(TASKS.get((int) Math.floorMod(seed, 3L)), Standing.FINE, "T-09", 9));
    Verdict after = c.verdict();
    assertTrue(!before.isMet() || after.isMet());
    assertTrue(Evaluation.cost(after.missing()) <= Evaluation.cost(before.missing()));
  }
}
