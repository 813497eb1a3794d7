package ferrule.app;

import ferrule.bench.BenchStore;
import ferrule.bench.Criterion;
import ferrule.bench.Draft;
import ferrule.bench.Entries;
import ferrule.bench.Grade;
import ferrule.bench.Limits;
import ferrule.bench.LoanInstrument;
import ferrule.bench.LoggedRecord;
import ferrule.bench.RecordStore;
import ferrule.bench.Signing;
import ferrule.bench.Task;
import ferrule.bench.TaskBook;
import ferrule.bench.TaskId;
import ferrule.bench.Unit;
import ferrule.people.Person;
import ferrule.store.Database;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;

/**
 * The bench of the invented demo programme: twenty loan trumpets, and two terms of graded work by two instructors, of
 * whom one is the stricter; one grade was corrected, one sign-off withdrawn, and one draft is still open.
 */
final class DemoBench {

  private static final int LOAN_TRUMPETS = 20;
  /** What the first year does, in this order. */
  private static final List<String> FIRST_YEAR =
      List.of(
          "water-key-cork-or-pad", "intake-inspection", "slide-fit-and-alignment", "water-key-cork-or-pad",
          "full-disassembly");
  /** What the second year does, in this order; who comes early gets through it all. */
  private static final List<String> SECOND_YEAR =
      List.of(
          "water-key-cork-or-pad", "intake-inspection", "full-disassembly", "slide-fit-and-alignment",
          "solder-loose-brace", "reassembly-play-test", "water-key-cork-or-pad", "chemical-clean",
          "slide-fit-and-alignment", "valve-alignment-with-felts", "stuck-mouthpiece", "valve-alignment-with-felts",
          "bell-dents", "solder-loose-brace");
  private static final long SEED = 20260907;
  // Tuesday and Thursday evenings
  private static final LocalDate LAST_EVENING = LocalDate.of(2026, 11, 24);
  private static final LocalTime FIRST_OF_THE_EVENING = LocalTime.of(17, 30);

  private final Random random = new Random(SEED);
  private final DemoClock clock = new DemoClock(Instant.EPOCH);
  private final BenchStore bench;
  private final RecordStore records;
  private final TaskBook tasks;
  private final List<Person> instructors;

  /** One evening's piece of work: who did what on which instrument, before whom. */
  private record Work(Instant at, Person apprentice, Task task, String tag, Person instructor) {}

  /**
   * @param instructors the lenient one first
   */
  DemoBench(Database database, TaskBook tasks, List<Person> instructors) {
    this.bench = new BenchStore(database, clock);
    this.records = new RecordStore(database, clock);
    this.tasks = tasks;
    this.instructors = instructors;
  }

  /** Lays out the instruments and grades the work of both cohorts up to the last evening. */
  void fill(List<Person> firstYear, LocalDate firstYearStarts, List<Person> secondYear, LocalDate secondYearStarts) {
    for (int i = 1; i <= LOAN_TRUMPETS; i++) {
      String tag = tag(i);
      bench.addIfNew(
          new LoanInstrument(DemoProgramme.id(tag), tag, tasks.all().get(0).instrument(), description(i), Optional.empty()));
    }
    List<Work> works = new ArrayList<>();
    plan(works, secondYear, secondYearStarts, SECOND_YEAR);
    plan(works, firstYear, firstYearStarts.plusWeeks(4), FIRST_YEAR);
    works.sort(Comparator.comparing(Work::at));
    List<LoggedRecord> signed = works.stream().map(this::grade).toList();
    makeTheMess(works, signed, firstYear);
  }

  private static String tag(int number) {
    return "T-" + (number < 10 ? "0" : "") + number;
  }

  private static String description(int number) {
    String model = number % 3 == 0 ? "professional model" : "student model";
    return model + (number % 5 == 0 ? ", push-button water keys" : ", lever water keys");
  }

  /** Some do all that is asked, some most, two hardly anything: the coordinator must be able to tell. */
  private void plan(List<Work> works, List<Person> cohort, LocalDate from, List<String> course) {
    for (int who = 0; who < cohort.size(); who++) {
      int pieces = who % 7 == 5 ? 1 : course.size() - random.nextInt(3);
      int evening = who % 3;
      for (int piece = 0; piece < pieces; piece++) {
        Task task = tasks.find(TaskId.of(course.get(piece))).orElseThrow();
        LocalDate day = evening(from, evening);
        evening += course.size() > FIRST_YEAR.size() ? 2 + random.nextInt(9) : 1 + random.nextInt(5);
        if (day.isAfter(LAST_EVENING) || cohort.get(who).leftOn().filter(day::isAfter).isPresent()) {
          break;
        }
        Instant at = day.atTime(FIRST_OF_THE_EVENING).plusMinutes(9L * who).toInstant(ZoneOffset.UTC);
        String tag = tag(1 + random.nextInt(LOAN_TRUMPETS));
        works.add(new Work(at, cohort.get(who), task, tag, instructors.get(random.nextInt(instructors.size()))));
      }
    }
  }

  private static LocalDate evening(LocalDate from, int number) {
    LocalDate tuesday = from.plusDays((9 - from.getDayOfWeek().getValue()) % 7);
    return tuesday.plusWeeks(number / 2).plusDays(number % 2 == 0 ? 0 : 2);
  }

  private LoggedRecord grade(Work work) {
    boolean strict = work.instructor().equals(instructors.get(1));
    clock.set(work.at());
    return sign(work, work.instructor(), entries(work.task(), strict ? 0.86 : 0.96), Optional.empty());
  }

  private LoggedRecord sign(Work work, Person instructor, Entries entries, Optional<LoggedRecord> corrects) {
    Person apprentice = work.apprentice();
    Draft draft =
        bench.open(
            instructor.id(), apprentice.id(), work.task().id(), work.tag(), entries, corrects.map(LoggedRecord::id));
    Grade grade = Grade.of(apprentice.id(), apprentice.fullName(), work.task(), work.tag(), entries);
    Signing signing = records.sign(draft, grade, instructor, tasks.edition());
    if (signing instanceof Signing.Signed signed) {
      return signed.entry();
    }
    throw new IllegalStateException("the demo's work was not signed: " + signing);
  }

  /** What the instructor enters; each criterion passes with this chance. */
  private Entries entries(Task task, double passes) {
    Map<String, Integer> levels = new HashMap<>();
    Map<String, String> readings = new HashMap<>();
    Map<String, String> lowers = new HashMap<>();
    Map<String, String> uppers = new HashMap<>();
    for (Criterion criterion : task.criteria()) {
      boolean good = random.nextDouble() < passes;
      if (criterion instanceof Criterion.Rated rated) {
        int best = rated.levels().size();
        levels.put(rated.id(), good ? rated.passLevel() + random.nextInt(best - rated.passLevel() + 1) : rated.passLevel() - 1);
      } else if (criterion instanceof Criterion.Measured measured) {
        enter(measured, good, readings, lowers, uppers);
      }
    }
    return new Entries(true, levels, readings, lowers, uppers, "", "");
  }

  private static void enter(
      Criterion.Measured measured,
      boolean good,
      Map<String, String> readings,
      Map<String, String> lowers,
      Map<String, String> uppers) {
    BigDecimal aim = measured.nominal().orElseGet(() -> usual(measured.unit()));
    // wide enough for the gauge, so that a good reading can be told from a bad one
    BigDecimal room =
        measured.gauge().expandedUncertainty().multiply(BigDecimal.valueOf(5)).round(new MathContext(1, RoundingMode.UP));
    if (measured.limitsBelongToInstructor()) {
      lowers.put(measured.id(), aim.subtract(room).toPlainString());
      uppers.put(measured.id(), aim.add(room).toPlainString());
    }
    BigDecimal far = measured.limits().flatMap(Limits::upper).orElse(aim).add(room.multiply(BigDecimal.valueOf(2)));
    readings.put(measured.id(), (good ? aim : far).toPlainString());
  }

  private static BigDecimal usual(Unit unit) {
    return switch (unit) {
      case MILLIMETRE -> new BigDecimal("3");
      case INCH -> new BigDecimal("0.12");
      case THOUSANDTH -> new BigDecimal("0.3");
      case GRAM -> new BigDecimal("2");
      case CELSIUS -> new BigDecimal("35");
      case FAHRENHEIT -> new BigDecimal("95");
      case SECOND -> new BigDecimal("40");
      case CENT -> BigDecimal.ZERO;
    };
  }

  /** A corrected grade, a withdrawn sign-off and a draft that waits: as in any real book. */
  private void makeTheMess(List<Work> works, List<LoggedRecord> signed, List<Person> firstYear) {
    clock.set(LAST_EVENING.atTime(20, 0).toInstant(ZoneOffset.UTC));
    int wrongLevel = works.size() / 3;
    Entries again = entries(works.get(wrongLevel).task(), 1);
    Entries corrected =
        new Entries(
            true, again.levels(), again.readings(), again.lowers(), again.uppers(), "",
            "The wrong level was tapped; seen again at the bench with the apprentice.");
    sign(works.get(wrongLevel), works.get(wrongLevel).instructor(), corrected, Optional.of(signed.get(wrongLevel)));
    int wrongPerson = works.size() / 2;
    records.withdraw(
        signed.get(wrongPerson),
        "Signed for the wrong apprentice; the two stood side by side.",
        works.get(wrongPerson).instructor(),
        tasks.edition());
    bench.open(
        instructors.get(0).id(), firstYear.get(0).id(), tasks.all().get(0).id(), tag(7), Entries.none(), Optional.empty());
  }
}
