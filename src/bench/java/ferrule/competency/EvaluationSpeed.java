package ferrule.competency;

import ferrule.bench.SignedWork;
import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import java.util.UUID;

/**
 * How long one apprentice's evaluation takes over 120 competencies of every sort of rule and 2,000 sign-offs, of which
 * a third fall short, from the sign-offs in memory to verdicts with what is missing. Nothing is kept from one to the next;
 * reading the records from the database is not part of it.
 */
public final class EvaluationSpeed {

  private static final ZonedDateTime NOW = ZonedDateTime.of(2026, 11, 25, 12, 0, 0, 0, ZoneOffset.UTC);
  private static final int TASKS = 300;
  private static final int SIGN_OFFS = 2_000;
  private static final int COMPETENCIES = 120;
  private static final int RUNS = 600;

  private List<SignedWork> works;
  private Programme programme;

  /** Makes a programme and a history, always the same. */
  private void make() {
    Random random = new Random(17);
    programme = programme(random, COMPETENCIES);
    works = new ArrayList<>();
    for (int i = 0; i < SIGN_OFFS; i++) {
      works.add(new SignedWork(
          new UUID(1, i), i, new UUID(0, 1), task(random), "T-" + random.nextInt(20), new UUID(2, random.nextInt(5)),
          "Invented", NOW.minusHours(3L * (SIGN_OFFS - i)).toInstant(), Standing.values()[random.nextInt(3)]));
    }
  }

  private static TaskId task(Random random) {
    return TaskId.of("task-" + random.nextInt(TASKS));
  }

  private static Programme programme(Random random, int count) {
    List<Competency> all = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      List<Requirement> parts = new ArrayList<>(List.of(signed(random), signed(random)));
      List<Requirement> choice = List.of(signed(random), signed(random), signed(random));
      parts.add(new Requirement.AtLeast(2, choice));
      if (i % 3 == 0) {
        parts.add(new Requirement.Names(ConceptId.of("assembly-" + i % 12), "assembly", 80));
      }
      if (i % 10 == 0) {
        parts.add(new Requirement.Hours(400, Optional.empty()));
      }
      if (i > 10 && i % 4 == 0) {
        String before = "c" + random.nextInt(10);
        parts.add(new Requirement.Holds(before, before));
      }
      all.add(new Competency("c" + i, "c" + i, "c", OptionalInt.empty(), new Requirement.AllOf(parts)));
    }
    return new Programme("p", "P", "e", "text", List.of(new Area("a", "A", all)));
  }

  private static Requirement signed(Random random) {
    Counting counting = switch (random.nextInt(4)) {
      case 0 -> new Counting(Counting.Order.LATEST, Optional.empty(), Optional.empty());
      case 1 -> new Counting(Counting.Order.BEST, Optional.empty(), Optional.of(Span.parse("12 months")));
      default -> Counting.ALL;
    };
    TaskId task = task(random);
    return new Requirement.Signed(
        task, task.value(), random.nextBoolean() ? Standing.SOUND : Standing.FINE, 1 + random.nextInt(6),
        1 + random.nextInt(3), 1 + random.nextInt(2), counting);
  }

  /** From the sign-offs to the verdicts. */
  private Map<String, Verdict> evaluate() {
    return Evaluation.of(
        programme, new Evidence(works, a -> new PartsNamed(5, 8, 10), List.of(), List.of(), NOW));
  }

  /** Prints the processor time of an evaluation, in milliseconds: what it costs however busy the machine is. */
  public static void main(String[] args) {
    EvaluationSpeed speed = new EvaluationSpeed();
    speed.make();
    ThreadMXBean threads = ManagementFactory.getThreadMXBean();
    double[] took = new double[RUNS];
    long missing = 0;
    for (int run = -RUNS; run < RUNS; run++) {
      long before = threads.getCurrentThreadCpuTime();
      Map<String, Verdict> verdicts = speed.evaluate();
      if (run >= 0) {
        took[run] = (threads.getCurrentThreadCpuTime() - before) / 1e6;
      }
      missing = verdicts.values().stream().filter(v -> !v.isMet()).count();
    }
    Arrays.sort(took);
    System.out.printf(
        Locale.ENGLISH,
        "%d competencies (%d not complete), %d sign-offs: median %.2f ms, 95 %% within %.2f ms, longest %.2f ms%n",
        COMPETENCIES, missing, SIGN_OFFS, took[RUNS / 2], took[RUNS * 95 / 100], took[RUNS - 1]);
  }
}
