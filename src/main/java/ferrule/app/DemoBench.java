package ferrule.app;

import ferrule.bench.BenchStore;
import ferrule.bench.BlindStore;
import ferrule.bench.CheckRequest;
import ferrule.bench.CleanPhoto;
import ferrule.bench.Criterion;
import ferrule.bench.Draft;
import ferrule.bench.Entries;
import ferrule.bench.Grade;
import ferrule.bench.Limits;
import ferrule.bench.LoanInstrument;
import ferrule.bench.LoggedRecord;
import ferrule.bench.PhotoStore;
import ferrule.bench.QueueStore;
import ferrule.bench.RecordStore;
import ferrule.bench.Signing;
import ferrule.bench.Task;
import ferrule.bench.TaskBook;
import ferrule.bench.TaskId;
import ferrule.bench.Unit;
import ferrule.people.Person;
import ferrule.store.Database;
import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.time.Duration;
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
import java.util.stream.Stream;
import javax.imageio.ImageIO;

/**
 * The bench of the invented demo programme: twenty loan trumpets, and two terms of graded work by two instructors, of
 * whom one is the stricter; one grade was corrected, one sign-off withdrawn, one draft is still open, some work was graded
 * by both, and three apprentices wait to be checked.
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
  private static final LocalTime FIRST_OF_THE_EVENING = LocalTime.of(17, 30);

  private static final CleanPhoto PICTURE = picture();

  private final Random random = new Random(SEED);
  private final Random waiting = new Random(SEED + 1);
  private final DemoClock clock = new DemoClock(Instant.EPOCH);
  private final BenchStore bench;
  private final QueueStore queue;
  private final BlindStore blind;
  private final PhotoStore photos;
  private final RecordStore records;
  private final TaskBook tasks;
  private final List<Person> instructors;
  private final DemoTerms terms;
  private final Instant blindSince;

  /** One evening's piece of work: who did what on which instrument, before whom. */
  private record Work(Instant at, Person apprentice, Task task, String tag, Person instructor) {}

  /**
   * @param instructors the lenient one first
   */
  DemoBench(Database database, TaskBook tasks, List<Person> instructors, DemoTerms terms) {
    this.bench = new BenchStore(database, clock);
    this.queue = new QueueStore(database, clock);
    this.blind = new BlindStore(database, clock);
    this.photos = new PhotoStore(database, clock);
    this.records = new RecordStore(database, clock);
    this.tasks = tasks;
    this.instructors = instructors;
    this.terms = terms;
    this.blindSince = terms.at(2026, 7, 1, LocalTime.MIDNIGHT);
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
    gradeBlind(works, signed);
    makeTheMess(works, signed, firstYear);
    leaveForTonight(firstYear, secondYear);
    solderAgain(Stream.of("Orla Benedek", "Uri Falconer", "Yara Pell").map(name -> named(secondYear, name)).toList());
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
        if (day.isAfter(terms.lastEvening()) || cohort.get(who).leftOn().filter(day::isAfter).isPresent()) {
          break;
        }
        Instant at = day.atTime(FIRST_OF_THE_EVENING).plusMinutes(9L * who).toInstant(ZoneOffset.UTC);
        String tag = tag(1 + random.nextInt(LOAN_TRUMPETS));
        works.add(new Work(at, cohort.get(who), task, tag, instructors.get(random.nextInt(instructors.size()))));
      }
    }
  }

  /** Stands in for every photo of the demo: a ring and two tubes of brass on a dark bench. */
  private static CleanPhoto picture() {
    BufferedImage image = new BufferedImage(480, 320, BufferedImage.TYPE_INT_RGB);
    Graphics2D g = image.createGraphics();
    g.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
    g.setColor(new Color(0x2b3a35));
    g.fillRect(0, 0, 480, 320);
    g.setColor(new Color(0xc9a24a));
    g.setStroke(new BasicStroke(26));
    g.drawArc(260, 80, 160, 160, -90, 180);
    g.drawLine(60, 80, 340, 80);
    g.drawLine(60, 240, 340, 240);
    g.dispose();
    ByteArrayOutputStream png = new ByteArrayOutputStream();
    try {
      ImageIO.write(image, "png", png);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return CleanPhoto.of(png.toByteArray());
  }

  /** Tuesday and Thursday evenings. */
  private static LocalDate evening(LocalDate from, int number) {
    LocalDate tuesday = from.plusDays((9 - from.getDayOfWeek().getValue()) % 7);
    return tuesday.plusWeeks(number / 2).plusDays(number % 2 == 0 ? 0 : 2);
  }

  private LoggedRecord grade(Work work) {
    boolean strict = work.instructor().equals(instructors.get(1));
    Optional<CheckRequest> asked = askToBeChecked(work);
    clock.set(work.at());
    LoggedRecord record =
        sign(work, work.instructor(), entries(work.task(), strict ? 0.86 : 0.96), Optional.empty());
    asked.ifPresent(request -> queue.take(request.id(), record.record().draft().orElseThrow()));
    signSecondIfAsked(work, record);
    return record;
  }

  /** Since the summer, most say that their work is ready before it is graded, and some wait until another evening. */
  private Optional<CheckRequest> askToBeChecked(Work work) {
    if (work.at().isBefore(blindSince) || waiting.nextInt(5) == 0) {
      return Optional.empty();
    }
    boolean anotherEvening = waiting.nextInt(6) == 0;
    boolean strict = work.instructor().equals(instructors.get(1));
    int minutes = (int) (Math.exp(waiting.nextGaussian() * 0.7) * (strict ? 38 : 24));
    clock.set(work.at().minus(Duration.ofMinutes(minutes)).minus(Duration.ofDays(anotherEvening ? 2 : 0)));
    queue.ask(work.apprentice().id(), work.task().id(), work.tag());
    return queue.waiting().stream()
        .filter(r -> r.apprentice().equals(work.apprentice().id()) && r.task().equals(work.task().id())).findFirst();
  }

  private Person other(Person instructor) {
    return instructors.get(instructor.equals(instructors.get(0)) ? 1 : 0);
  }

  private LoggedRecord sign(Work work, Person instructor, Entries entries, Optional<LoggedRecord> corrects) {
    Person apprentice = work.apprentice();
    Draft draft =
        bench.open(
            instructor.id(), apprentice.id(), work.task().id(), work.tag(), entries, corrects.map(LoggedRecord::id));
    if (work.task().photoAsked()) {
      photos.add(draft.id(), PICTURE);
    }
    Grade grade =
        Grade.of(apprentice.id(), apprentice.fullName(), work.task(), work.tag(), entries, photos.of(draft.id()));
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

  /** Each third piece of work since the summer that cannot hurt was graded by the other instructor too, who had not seen it. */
  private void gradeBlind(List<Work> works, List<LoggedRecord> signed) {
    for (int i = 0; i < works.size(); i += 3) {
      Work work = works.get(i);
      if (work.at().isBefore(blindSince) || work.task().secondSignature()) {
        continue;
      }
      Person other = other(work.instructor());
      clock.set(work.at().plus(Duration.ofMinutes(12)));
      Draft first = bench.draft(signed.get(i).record().draft().orElseThrow()).orElseThrow();
      Entries entries = asSeenByAnother(work.task(), first.entries());
      Draft draft = bench.openBlind(
          signed.get(i).id(), other.id(), work.apprentice().id(), work.task().id(), work.tag(), entries);
      Grade grade =
          Grade.of(work.apprentice().id(), work.apprentice().fullName(), work.task(), work.tag(), entries);
      blind.keep(signed.get(i).id(), other.id(), draft.id(), grade);
    }
  }

  /** The same work through other eyes: one rating in five lies one level off. */
  private Entries asSeenByAnother(Task task, Entries first) {
    Map<String, Integer> levels = new HashMap<>(first.levels());
    for (Criterion criterion : task.criteria()) {
      if (criterion instanceof Criterion.Rated rated && random.nextInt(5) == 0) {
        int step = random.nextBoolean() ? 1 : -1;
        levels.computeIfPresent(rated.id(), (id, level) -> Math.min(rated.levels().size(), Math.max(1, level + step)));
      }
    }
    return new Entries(true, levels, first.readings(), first.lowers(), first.uppers(), "", "");
  }

  /** What lies on the bench this evening: three in the queue, and work that waits for a second signature. */
  private void leaveForTonight(List<Person> firstYear, List<Person> secondYear) {
    Task clean = tasks.find(TaskId.of("chemical-clean")).orElseThrow();
    Person strict = instructors.get(1);
    clock.set(terms.lastEvening().atTime(20, 5).toInstant(ZoneOffset.UTC));
    sign(new Work(clock.instant(), secondYear.get(2), clean, tag(11), strict), strict, entries(clean, 1), Optional.empty());
    queue.ask(firstYear.get(2).id(), TaskId.of("full-disassembly"), tag(3));
    clock.set(terms.lastEvening().atTime(20, 9).toInstant(ZoneOffset.UTC));
    queue.ask(named(firstYear, "Wren Aldous").id(), TaskId.of("water-key-cork-or-pad"), tag(7));
    clock.set(terms.lastEvening().atTime(20, 11).toInstant(ZoneOffset.UTC));
    queue.ask(secondYear.get(5).id(), TaskId.of("solder-loose-brace"), tag(15));
  }

  /** What soldered in spring no longer counts; some have shown it again on the last evening. */
  private void solderAgain(List<Person> apprentices) {
    Task solder = tasks.find(TaskId.of("solder-loose-brace")).orElseThrow();
    Person lenient = instructors.get(0);
    for (int i = 0; i < apprentices.size(); i++) {
      Instant at = terms.lastEvening().atTime(20, 15).plusMinutes(9L * i).toInstant(ZoneOffset.UTC);
      clock.set(at);
      Work work = new Work(at, apprentices.get(i), solder, tag(16 + i), lenient);
      signSecondIfAsked(work, sign(work, lenient, entries(solder, 1), Optional.empty()));
    }
  }

  private void signSecondIfAsked(Work work, LoggedRecord record) {
    if (record.record().grade().map(Grade::secondSignature).orElse(false)) {
      clock.set(work.at().plus(Duration.ofMinutes(4)));
      records.signSecond(record, other(work.instructor()), tasks.edition());
    }
  }

  private static Person named(List<Person> persons, String name) {
    return persons.stream().filter(p -> p.fullName().equals(name)).findFirst().orElseThrow();
  }

  /** A corrected grade, a withdrawn sign-off and a draft that waits: as in any real book. */
  private void makeTheMess(List<Work> works, List<LoggedRecord> signed, List<Person> firstYear) {
    clock.set(terms.lastEvening().atTime(20, 0).toInstant(ZoneOffset.UTC));
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
