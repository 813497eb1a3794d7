package ferrule.competency;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.bench.SignedWork;
import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;

/** Random rule trees and histories, against rules as they are written, evaluated without any thought for speed. */
class RuleTreesTest {

  private static final UUID APPRENTICE = new UUID(0, 1);
  private static final List<TaskId> TASKS = List.of(TaskId.of("keys"), TaskId.of("slides"), TaskId.of("valves"));
  private static final List<ConceptId> ASSEMBLIES = List.of(ConceptId.of("bell"), ConceptId.of("leadpipe"));
  private static final ZonedDateTime NOW = ZonedDateTime.of(2026, 11, 25, 12, 0, 0, 0, ZoneOffset.UTC);
  private static final int PARTS = 6;

  /** A random programme of three competencies, of which later ones may ask for earlier ones, and a history. */
  private static final class Case {
    private final Random random;
    private final boolean canBeLost;
    final Programme programme;
    final List<SignedWork> works = new ArrayList<>();
    final Map<ConceptId, PartsNamed> named = new HashMap<>();
    final List<BenchHours> hours = new ArrayList<>();
    final List<Equivalence> granted = new ArrayList<>();
    private int serial;

    /**
     * @param canBeLost whether rules of windows, currency, the latest and consecutive work are among them
     */
    Case(long seed, boolean canBeLost) {
      random = new Random(seed);
      this.canBeLost = canBeLost;
      List<Competency> competencies = new ArrayList<>();
      for (int i = 0; i < 3; i++) {
        competencies.add(new Competency("c" + i, "C" + i, "Does " + i, OptionalInt.empty(), rule(2, i)));
      }
      programme = new Programme("p", "P", "e", "text", List.of(new Area("a", "A", competencies)));
      int count = random.nextInt(9);
      for (int i = 0; i < count; i++) {
        Standing standing = random.nextInt(4) == 0 ? Standing.NOT_YET : any(List.of(Standing.SOUND, Standing.FINE));
        add(any(TASKS), standing, "T-0" + random.nextInt(3), random.nextInt(3), NOW.minusDays(random.nextInt(100)));
      }
      for (ConceptId a : ASSEMBLIES) {
        int asked = random.nextInt(PARTS + 1);
        named.put(a, new PartsNamed(random.nextInt(asked + 1), asked, PARTS));
      }
      for (int i = random.nextInt(4); i > 0; i--) {
        addHours(NOW.toLocalDate().minusDays(random.nextInt(60)), 1 + random.nextInt(400));
      }
      if (random.nextInt(5) == 0) {
        granted.add(new Equivalence(
            UUID.randomUUID(), APPRENTICE, "c" + random.nextInt(3), "Seen.", new UUID(2, 1), "Invented", NOW.toInstant(),
            Optional.empty()));
      }
    }

    void add(TaskId task, Standing standing, String tag, int instructor, ZonedDateTime at) {
      serial++;
      works.add(new SignedWork(
          new UUID(1, serial), serial, APPRENTICE, task, tag, new UUID(2, instructor), "Invented", at.toInstant(), standing));
    }

    void addHours(LocalDate day, int minutes) {
      hours.add(new BenchHours(
          UUID.randomUUID(), APPRENTICE, day, minutes, "", new UUID(2, 1), "Invented", NOW.toInstant(), Optional.empty(),
          ""));
    }

    private <V> V any(List<V> values) {
      return values.get(random.nextInt(values.size()));
    }

    private Requirement rule(int depth, int mayAskFor) {
      int sort = random.nextInt(depth == 0 ? 6 : 10);
      if (sort == 0) {
        ConceptId assembly = any(ASSEMBLIES);
        return random.nextBoolean() ? new Requirement.Names(assembly, assembly.value(), 1 + random.nextInt(100))
            : new Requirement.Known(assembly, assembly.value(), 1 + random.nextInt(60));
      }
      if (sort == 1) {
        return new Requirement.Hours(1 + random.nextInt(12), span(60));
      }
      if (sort == 2 && mayAskFor > 0) {
        int which = random.nextInt(mayAskFor);
        return new Requirement.Holds("c" + which, "C" + which);
      }
      if (sort <= 5) {
        TaskId task = any(TASKS);
        return new Requirement.Signed(
            task, task.value(), random.nextBoolean() ? Standing.SOUND : Standing.FINE, 1 + random.nextInt(3),
            1 + random.nextInt(3), 1 + random.nextInt(2), counting());
      }
      List<Requirement> parts = new ArrayList<>();
      int size = 1 + random.nextInt(3);
      for (int i = 0; i < size; i++) {
        parts.add(rule(depth - 1, mayAskFor));
      }
      return sort <= 7 ? new Requirement.AllOf(parts) : new Requirement.AtLeast(1 + random.nextInt(size), parts);
    }

    private Counting counting() {
      return canBeLost && random.nextBoolean()
          ? new Counting(any(List.of(Counting.Order.values())), span(70), span(90)) : Counting.ALL;
    }

    private Optional<Span> span(int days) {
      return canBeLost && random.nextInt(3) == 0
          ? Optional.of(new Span(1 + random.nextInt(days), ChronoUnit.DAYS)) : Optional.empty();
    }

    Map<String, Verdict> verdicts() {
      return Evaluation.of(programme, new Evidence(works, named::get, hours, granted, NOW));
    }

    // -- the rules as they are written

    boolean holds(String competency) {
      return granted.stream().anyMatch(g -> g.competency().equals(competency))
          || holds(programme.find(competency).orElseThrow().requires());
    }

    private boolean holds(Requirement rule) {
      if (rule instanceof Requirement.AllOf all) {
        return all.parts().stream().allMatch(this::holds);
      }
      if (rule instanceof Requirement.AtLeast some) {
        return some.parts().stream().filter(this::holds).count() >= some.count();
      }
      if (rule instanceof Requirement.Names n) {
        return named.get(n.assembly()).right() * 100 >= n.percent() * PARTS;
      }
      if (rule instanceof Requirement.Known k) {
        PartsNamed n = named.get(k.scope());
        return n.right() == PARTS || n.sure() * 100 >= k.percent();
      }
      if (rule instanceof Requirement.Hours h) {
        return hours.stream()
            .filter(e -> h.noOlder().isEmpty() || !e.day().plusDays(h.noOlder().get().count()).isBefore(NOW.toLocalDate()))
            .mapToInt(BenchHours::minutes).sum() >= h.hours() * 60;
      }
      return rule instanceof Requirement.Holds holds ? holds(holds.competency()) : holds((Requirement.Signed) rule);
    }

    /** Some choice of the task's sign-offs does all that the rule asks. */
    private boolean holds(Requirement.Signed rule) {
      List<SignedWork> history = works.stream().filter(w -> w.task().equals(rule.task()))
          .sorted(Comparator.comparing(SignedWork::gradedAt).thenComparing(SignedWork::number)).toList();
      for (int choice = 1; choice < 1 << history.size(); choice++) {
        if (does(rule, history, choice)) {
          return true;
        }
      }
      return false;
    }

    private static boolean does(Requirement.Signed rule, List<SignedWork> history, int choice) {
      int first = Integer.numberOfTrailingZeros(choice);
      int last = 31 - Integer.numberOfLeadingZeros(choice);
      Set<String> tags = new HashSet<>();
      Set<UUID> instructors = new HashSet<>();
      for (int i = first; i <= last; i++) {
        if ((choice >> i & 1) == 1) {
          SignedWork w = history.get(i);
          tags.add(w.tag());
          instructors.add(w.instructor());
          boolean tooOld = rule.counting().noOlder()
              .filter(s -> w.gradedAt().plus(s.count(), ChronoUnit.DAYS).isBefore(NOW.toInstant())).isPresent();
          if (tooOld || w.standing().compareTo(rule.standing()) < 0) {
            return false;
          }
        }
      }
      int through = switch (rule.counting().order()) {
        case BEST -> first;
        case CONSECUTIVE -> last;
        case LATEST -> history.size() - 1;
      };
      boolean unbroken = history.subList(first, through + 1).stream()
          .allMatch(w -> w.standing().compareTo(rule.standing()) >= 0);
      Instant from = history.get(first).gradedAt();
      boolean together = rule.counting().within()
          .filter(s -> from.plus(s.count(), ChronoUnit.DAYS).isBefore(history.get(last).gradedAt())).isEmpty();
      return unbroken && together && Integer.bitCount(choice) >= rule.times() && tags.size() >= rule.instruments()
          && instructors.size() >= rule.instructors();
    }

    /** The least that would do, by trying all: each piece of work as good and as new as can be, now. */
    int fewest(String competency, int atMost) {
      List<SignedWork> before = List.copyOf(works);
      List<BenchHours> hoursBefore = List.copyOf(hours);
      Map<ConceptId, PartsNamed> namedBefore = Map.copyOf(named);
      int fewest = atMost + 1;
      for (int code = 0; code < 4 * 4 * 4 * 4 * 5; code++) {
        int[] more = {code % 4, code / 4 % 4, code / 16 % 4};
        int learned = code / 64 % 4;
        int evenings = code / 256;
        int cost = more[0] + more[1] + more[2] + Integer.bitCount(learned) + evenings;
        if (cost < fewest) {
          for (int t = 0; t < 3; t++) {
            for (int i = 0; i < more[t]; i++) {
              add(TASKS.get(t), Standing.FINE, "new-" + t + i, 100 + i, NOW);
            }
          }
          for (int a = 0; a < 2; a++) {
            if ((learned >> a & 1) == 1) {
              named.put(ASSEMBLIES.get(a), new PartsNamed(PARTS, PARTS, PARTS));
            }
          }
          for (int i = 0; i < evenings; i++) {
            addHours(NOW.toLocalDate(), Way.EVENING);
          }
          fewest = holds(competency) ? cost : fewest;
          works.clear();
          works.addAll(before);
          hours.clear();
          hours.addAll(hoursBefore);
          named.putAll(namedBefore);
        }
      }
      return fewest;
    }

    /** Exactly what gaps ask for, and nothing better: known instruments and instructors as far as they allow them. */
    void grant(List<Gap> gaps) {
      // the finer work comes last only by chance: the list must hold in whatever order it is done
      List<Gap> shuffled = new ArrayList<>(gaps);
      java.util.Collections.shuffle(shuffled, random);
      shuffled.forEach(this::grant);
    }

    private void grant(Gap gap) {
      if (gap instanceof Gap.Names n) {
        PartsNamed before = named.get(n.assembly());
        int right = Math.max(before.right(), n.needed());
        named.put(n.assembly(), new PartsNamed(right, Math.max(before.asked(), right), PARTS));
      } else if (gap instanceof Gap.Known k) {
        PartsNamed before = named.get(k.scope());
        int right = Math.max(before.right(), k.named().right() + k.more());
        named.put(k.scope(), new PartsNamed(right, Math.max(before.asked(), right), PARTS));
      } else if (gap instanceof Gap.Hours h) {
        addHours(NOW.toLocalDate(), h.more());
      } else {
        grant((Gap.SignOffs) gap);
      }
    }

    private void grant(Gap.SignOffs gap) {
      Evidence.Tally counting = new Evidence(works, named::get, hours, granted, NOW).extendable(gap.rule());
      Optional<SignedWork> known = counting.works().stream().findFirst();
      for (int i = 0; i < gap.more(); i++) {
        boolean otherTag = i < gap.newInstruments() || known.isEmpty();
        boolean otherInstructor = i < gap.newInstructors() || known.isEmpty();
        add(
            gap.task(), gap.standing(),
            otherTag ? "granted-" + (i < gap.newInstruments() ? i : 0) : known.get().tag(),
            otherInstructor ? 500 + (i < gap.newInstructors() ? i : 0)
                : (int) known.get().instructor().getLeastSignificantBits(),
            NOW);
      }
    }
  }

  @Property(tries = 4_000)
  void agreesWithTheRulesAsTheyAreWritten(@ForAll long seed) {
    Case c = new Case(seed, true);
    c.verdicts().forEach((id, verdict) ->
        assertEquals(c.holds(id), verdict.isMet(), () -> c.programme.find(id) + " " + c.works + verdict.sentence()));
  }

  @Property(tries = 10_000)
  void grantingExactlyWhatIsMissingCompletesIt(@ForAll long seed) {
    Case c = new Case(seed, true);
    Map<String, Verdict> before = c.verdicts();
    String id = "c" + Math.floorMod(seed, 3L);
    c.grant(before.get(id).missing());
    assertTrue(
        c.verdicts().get(id).isMet(),
        () -> before.get(id).sentence() + " then " + c.verdicts().get(id).sentence() + " of " + c.programme.find(id) + " " + c.works);
    assertTrue(c.holds(id));
  }

  @Property(tries = 2_000)
  void whatIsMissingIsTheLeastThatWouldDo(@ForAll long seed) {
    Case c = new Case(seed, true);
    String id = "c" + Math.floorMod(seed, 3L);
    Verdict verdict = c.verdicts().get(id);
    int told = new Way(verdict.missing(), Map.of(), Set.of()).cost();
    assertEquals(told, c.fewest(id, told), () -> c.programme.find(id) + " " + verdict.sentence());
  }

  @Property(tries = 5_000)
  void moreGoodEvidenceNeverLosesACompetency(@ForAll long seed) {
    Case c = new Case(seed, false);
    Map<String, Verdict> before = c.verdicts();
    c.add(TASKS.get((int) Math.floorMod(seed, 3L)), Standing.FINE, "T-09", 9, NOW);
    c.addHours(NOW.toLocalDate(), 60);
    c.verdicts().forEach((id, after) -> {
      assertTrue(!before.get(id).isMet() || after.isMet());
      int told = new Way(after.missing(), Map.of(), Set.of()).cost();
      assertTrue(told <= new Way(before.get(id).missing(), Map.of(), Set.of()).cost());
    });
  }

  @Property(tries = 5_000)
  void fineWorkAndHoursNowNeverLoseAnythingWhateverTheRule(@ForAll long seed) {
    // what can be lost is lost by work that falls short, and by time
    Case c = new Case(seed, true);
    Map<String, Verdict> before = c.verdicts();
    c.add(TASKS.get((int) Math.floorMod(seed, 3L)), Standing.FINE, "T-09", 9, NOW);
    c.addHours(NOW.toLocalDate(), 60);
    c.verdicts().forEach((id, after) -> assertTrue(!before.get(id).isMet() || after.isMet()));
  }
}
