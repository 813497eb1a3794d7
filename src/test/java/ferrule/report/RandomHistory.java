package ferrule.report;

import ferrule.bench.BenchStore;
import ferrule.bench.BlindStore;
import ferrule.bench.Criterion;
import ferrule.bench.Draft;
import ferrule.bench.Entries;
import ferrule.bench.Grade;
import ferrule.bench.QueueStore;
import ferrule.bench.RecordStore;
import ferrule.bench.Signing;
import ferrule.bench.Standing;
import ferrule.bench.Task;
import ferrule.bench.TaskBook;
import ferrule.bench.TaskId;
import ferrule.bench.TaskReader;
import ferrule.competency.BenchHours;
import ferrule.competency.Competencies;
import ferrule.competency.Desk;
import ferrule.competency.EditionStore;
import ferrule.competency.Equivalence;
import ferrule.competency.EquivalenceStore;
import ferrule.competency.EvidenceSource;
import ferrule.competency.HoursStore;
import ferrule.competency.Move;
import ferrule.competency.NameScope;
import ferrule.competency.NamingStore;
import ferrule.competency.Programme;
import ferrule.competency.Withdrawals;
import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.drill.Answer;
import ferrule.drill.Assignment;
import ferrule.drill.Conditions;
import ferrule.drill.DrillStore;
import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.drill.Outcome;
import ferrule.drill.Plan;
import ferrule.drill.Response;
import ferrule.drill.RuledAnswer;
import ferrule.drill.SignedRulings;
import ferrule.drill.Sitting;
import ferrule.drill.item.Interaction;
import ferrule.drill.item.Option;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.ledger.LedgerStore;
import ferrule.naming.TermReader;
import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.web.HandClock;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.function.Function;

/**
 * Half a year of an invented small school, made at random from a seed through the real stores on a real database, with
 * everything that makes reports hard: corrections and corrections of corrections, withdrawals, second signatures that
 * are still awaited, work graded twice, leavers, those who came back, those who were in another cohort before, rulings
 * that regrade and are undone, corrected hours, grants that end or are withdrawn, cohorts moved to another edition.
 *
 * <p>What it did is also noted as {@linkplain RawRecords plain facts}. A property test makes one for a seed, takes some
 * of its {@link #moments}, and compares what a report says with what it works out from these facts by itself:
 *
 * <pre>{@code
 * try (Database database = RealDatabases.h2()) {
 *   RandomHistory history = RandomHistory.of(database, seed);
 *   for (Instant at : history.moments(5)) { ... }
 * }
 * }</pre>
 *
 * <p>The same seed makes the same history but for the ids, which are random. One with {@value #USUAL} steps takes a second
 * or two.
 */
public final class RandomHistory {

  /** The school's. */
  public static final ZoneId ZONE = ZoneId.of("Europe/Rome");
  /** The tasks of the curriculum, from which work is chosen. */
  public static final TaskBook TASKS = TaskReader.readBook(Curriculum.bundled(), new Problems());
  /** The glossary of the curriculum, from which parts are chosen. */
  public static final Glossary TRUMPET =
      GlossaryReader.read(Curriculum.bundled(), "trumpet", new Problems()).orElseThrow();
  /** How many steps a history has if nothing else is asked. */
  public static final int USUAL = 450;

  /** What is done at the bench; the last two ask for a second signature. */
  static final List<TaskId> WORK =
      List.of("water-key-cork-or-pad", "slide-fit-and-alignment", "bell-dents", "solder-loose-brace", "buffing-lacquer")
          .stream().map(TaskId::of).toList();
  /** Whose parts are asked for. */
  static final List<ConceptId> ASSEMBLIES =
      List.of(ConceptId.of("main-slide-water-key"), ConceptId.of("second-slide-assembly"));

  private static final List<String> TAGS = List.of("T-01", "T-02", "T-03", "T-04");
  private static final List<String> TYPED = List.of("goose neck", "Little lever", "bent thing", "cork seat", "inner pipe");
  private static final Instant BEGINS = Instant.parse("2026-01-12T07:00:00Z");

  private final Random random;
  private final Database database;
  private final RawRecords raw = new RawRecords();
  private final HandClock clock = new HandClock(BEGINS);
  private final PeopleStore people;
  private final BenchStore bench;
  private final QueueStore queue;
  private final RecordStore records;
  private final BlindStore blind;
  private final DrillStore drills;
  private final HoursStore hours;
  private final EquivalenceStore equivalences;
  private final EditionStore editions;
  private final Competencies competencies;
  private final List<Programme> programmes;
  private final List<Cohort> cohorts = new ArrayList<>();
  private final List<Person> apprentices = new ArrayList<>();
  private final List<Person> instructors = new ArrayList<>();
  private final Person coordinator;
  private final Map<UUID, LocalDate> left = new HashMap<>();
  private final Map<Integer, UUID> requests = new TreeMap<>();
  private final List<RuledAnswer> rulings = new ArrayList<>();
  private final Map<List<UUID>, Integer> attempts = new HashMap<>();
  private final List<ConceptId> parts;

  private RandomHistory(Database database, long seed) {
    this.database = database;
    random = new Random(seed);
    LedgerStore ledger = new LedgerStore(database);
    people = new PeopleStore(database, clock);
    bench = new BenchStore(database, clock);
    queue = new QueueStore(database, clock);
    records = new RecordStore(database, clock);
    blind = new BlindStore(database, clock);
    drills = new DrillStore(database);
    hours = new HoursStore(database);
    equivalences = new EquivalenceStore(database, ledger);
    editions = new EditionStore(database, ledger);
    programmes = List.of(
        RandomProgramme.of(random, WORK, ASSEMBLIES, "First edition"),
        RandomProgramme.of(random, WORK, ASSEMBLIES, "Second edition"));
    competencies = new Competencies(
        programmes.get(0), editions,
        new EvidenceSource(records, new NamingStore(database), new NameScope(List.of(TRUMPET), Set::of), hours, equivalences, ZONE));
    parts = ASSEMBLIES.stream().flatMap(a -> partsOf(a).stream()).distinct().toList();
    coordinator = person("Magnus", Role.COORDINATOR);
    for (String name : List.of("Isolde", "Edda", "Corin")) {
      instructors.add(person(name, Role.INSTRUCTOR));
    }
    fillCohorts();
  }

  /** A history of the usual length in an empty database. */
  public static RandomHistory of(Database database, long seed) {
    return of(database, seed, USUAL);
  }

  /** A history of so many steps in an empty database. */
  public static RandomHistory of(Database database, long seed, int steps) {
    return of(database, seed, steps, history -> {});
  }

  /** The same, shown to somebody after each step, who may move its clock on or have work graded once more. */
  public static RandomHistory of(Database database, long seed, int steps, Consumer<RandomHistory> watcher) {
    RandomHistory history = new RandomHistory(database, seed);
    for (int i = 0; i < steps; i++) {
      history.step();
      watcher.accept(history);
    }
    history.pause();
    return history;
  }

  // -- what tests ask for

  /** What was done. */
  RawRecords raw() {
    return raw;
  }

  /** The database that it is kept in. */
  public Database database() {
    return database;
  }

  /** Stands at the end of the history; a test may move it on. */
  public HandClock clock() {
    return clock;
  }

  /** The pages' desk over this history. */
  public Desk desk() {
    return new Desk(competencies, people, clock, ZONE);
  }

  /** Evaluates over this history. */
  public Competencies competencies() {
    return competencies;
  }

  /** The accounts. */
  public PeopleStore people() {
    return people;
  }

  /** The answers. */
  public DrillStore drills() {
    return drills;
  }

  /** The grades made without seeing the first. */
  public BlindStore blind() {
    return blind;
  }

  /** The signed records. */
  public RecordStore records() {
    return records;
  }

  /** The queue. */
  public QueueStore queue() {
    return queue;
  }

  /** The cohorts, each begun with one of the {@link #programmes}. */
  public List<Cohort> cohorts() {
    return List.copyOf(cohorts);
  }

  /** Both editions, the first of which is today's. */
  public List<Programme> programmes() {
    return programmes;
  }

  /** Every apprentice, those who left too. */
  public List<Person> apprentices() {
    return List.copyOf(apprentices);
  }

  /** Every instructor. */
  public List<Person> instructors() {
    return List.copyOf(instructors);
  }

  /** The coordinator. */
  Person coordinator() {
    return coordinator;
  }

  /** When somebody left the programme, if they did and have not come back. */
  Optional<LocalDate> leftOn(UUID person) {
    return Optional.ofNullable(left.get(person));
  }

  /** The parts of an assembly that can be named: how many make up a share. */
  static Set<ConceptId> partsOf(ConceptId assembly) {
    Set<ConceptId> found = new LinkedHashSet<>();
    TRUMPET.allWithin(assembly).stream().filter(Concept::isNameable).map(Concept::id).forEach(found::add);
    return found;
  }

  /** Before anything, now, and so many random moments between, some of which are exactly those at which something was signed. */
  public List<Instant> moments(int between) {
    Random own = new Random(raw.signed.size());
    List<Instant> moments = new ArrayList<>(List.of(BEGINS.minusSeconds(1), clock.instant()));
    long span = Duration.between(BEGINS, clock.instant()).toMillis();
    for (int i = 0; i < between; i++) {
      moments.add(
          i % 2 == 0 && !raw.signed.isEmpty() ? raw.signed.get(own.nextInt(raw.signed.size())).at()
              : BEGINS.plusMillis((long) (own.nextDouble() * span)));
    }
    return moments;
  }

  // -- who there is

  private Person person(String name, Role role) {
    UUID id = new UUID(random.nextLong(), random.nextLong());
    Person person = new Person(id, name.toLowerCase() + id, "Invented " + name, role, Optional.empty());
    people.add(person, Optional.empty(), Optional.empty());
    return person;
  }

  private void fillCohorts() {
    programmes.forEach(p -> editions.keep(p, BEGINS));
    LocalDate begins = today();
    for (int i = 0; i < 3; i++) {
      String edition = i == 2 ? "never-kept" : programmes.get(i).edition();
      LocalDate starts = begins.minusWeeks(random.nextInt(8));
      Cohort cohort = new Cohort(
          new UUID(random.nextLong(), random.nextLong()), "Cohort " + i, edition, starts, starts.plusWeeks(40));
      people.add(cohort);
      cohorts.add(cohort);
    }
    for (int i = 0; i < 9; i++) {
      Person apprentice = person("Apprentice " + i, Role.APPRENTICE);
      apprentices.add(apprentice);
      join(cohorts.get(i % 3), apprentice, begins.minusDays(random.nextInt(20)), Optional.empty());
      if (random.nextInt(4) == 0) {
        LocalDate joined = begins.minusDays(100 + random.nextInt(20));
        join(cohorts.get((i + 1) % 3), apprentice, joined, Optional.of(begins.minusDays(30)));
      }
    }
  }

  private void join(Cohort cohort, Person who, LocalDate on, Optional<LocalDate> until) {
    people.join(cohort.id(), who.id(), on, until);
    raw.memberships.add(new RawRecords.Membership(cohort.id(), who.id(), on, until));
  }

  // -- what happens

  private LocalDate today() {
    return LocalDate.ofInstant(clock.instant(), ZONE);
  }

  private void pause() {
    clock.pass(Duration.ofMinutes(5 + random.nextInt(1_000)));
  }

  private <V> V any(List<V> values) {
    return values.get(random.nextInt(values.size()));
  }

  private void step() {
    pause();
    int chance = random.nextInt(100);
    if (chance < 38) {
      work();
    } else if (chance < 60) {
      drill();
    } else if (chance < 66) {
      correct();
    } else if (chance < 69) {
      withdraw();
    } else if (chance < 76) {
      second();
    } else if (chance < 79) {
      gradeBlind();
    } else if (chance < 87) {
      enterHours();
    } else if (chance < 90) {
      grant();
    } else if (chance < 94) {
      rule();
    } else if (chance < 97) {
      ask(any(apprentices), any(WORK), any(TAGS));
    } else {
      seldom();
    }
  }

  private void seldom() {
    switch (random.nextInt(6)) {
      case 0 -> leave();
      case 1 -> comeBack();
      case 2 -> joinAnother();
      case 3 -> move();
      case 4 -> takeBack();
      default -> undo();
    }
  }

  private void work() {
    Person apprentice = any(apprentices);
    TaskId task = any(WORK);
    String tag = any(TAGS);
    Optional<Integer> asked = random.nextBoolean() ? ask(apprentice, task, tag) : Optional.empty();
    if (asked.isPresent()) {
      pause();
    }
    Person by = any(instructors);
    Draft draft = bench.open(by.id(), apprentice.id(), task, tag, entries(task), Optional.empty());
    asked.ifPresent(a -> {
      if (!queue.take(requests.get(a), draft.id())) {
        throw new AssertionError("the request was taken by nobody else");
      }
    });
    raw.begun.add(new RawRecords.Begun(draft.id(), asked, by.id(), clock.instant()));
    clock.pass(Duration.ofMinutes(1 + random.nextInt(40)));
    sign(draft, apprentice, by);
  }

  private Optional<Integer> ask(Person apprentice, TaskId task, String tag) {
    if (left.containsKey(apprentice.id()) || !queue.ask(apprentice.id(), task, tag)) {
      return Optional.empty();
    }
    int id = raw.asked.size();
    raw.asked.add(new RawRecords.Asked(id, apprentice.id(), task, tag, clock.instant()));
    UUID request = queue.waiting().stream()
        .filter(r -> r.apprentice().equals(apprentice.id()) && r.task().equals(task) && r.tag().equals(tag))
        .findFirst().orElseThrow().id();
    requests.put(id, request);
    return Optional.of(id);
  }

  private void takeBack() {
    List<RawRecords.Asked> free = raw.asked.stream()
        .filter(a -> raw.begun.stream().noneMatch(b -> b.asked().filter(id -> id == a.id()).isPresent()))
        .filter(a -> raw.askedNoMore.stream().noneMatch(n -> n.asked() == a.id()))
        .toList();
    if (!free.isEmpty()) {
      RawRecords.Asked asked = any(free);
      if (queue.withdraw(requests.get(asked.id()), asked.apprentice())) {
        raw.askedNoMore.add(new RawRecords.AskedNoMore(asked.id(), clock.instant()));
      }
    }
  }

  private Entries entries(TaskId id) {
    Standing aim = random.nextInt(4) == 0 ? Standing.NOT_YET : random.nextInt(3) == 0 ? Standing.FINE : Standing.SOUND;
    Task task = TASKS.find(id).orElseThrow();
    Map<String, Integer> levels = new TreeMap<>();
    Map<String, String> readings = new TreeMap<>();
    Map<String, String> uppers = new TreeMap<>();
    for (Criterion criterion : task.criteria()) {
      if (criterion instanceof Criterion.Rated rated) {
        int most = rated.levels().size();
        levels.put(
            rated.id(),
            aim == Standing.FINE ? most
                : aim == Standing.SOUND ? rated.passLevel() : 1 + random.nextInt(rated.passLevel() - 1));
      } else if (criterion instanceof Criterion.Measured measured) {
        readings.put(measured.id(), measured.nominal().orElse(BigDecimal.ZERO).toPlainString());
        uppers.put(measured.id(), "100");
      }
    }
    return new Entries(true, levels, readings, Map.of(), uppers, "", "It was another instrument.");
  }

  private void sign(Draft draft, Person apprentice, Person by) {
    Task task = TASKS.find(draft.task()).orElseThrow();
    Grade grade = Grade.of(apprentice.id(), apprentice.fullName(), task, draft.tag(), draft.entries());
    Signing signing = records.sign(draft, grade, by, TASKS.edition());
    if (!(signing instanceof Signing.Signed signed)) {
      throw new AssertionError("expected that it is signed: " + signing);
    }
    raw.signed.add(
        new RawRecords.Signed(
            signed.entry().id(), signed.entry().number(), draft.corrects(), draft.id(), grade, by.id(), clock.instant()));
  }

  private List<RawRecords.Signed> standing() {
    return raw.signed.stream().filter(s -> raw.stands(s.record(), clock.instant())).toList();
  }

  private void correct() {
    List<RawRecords.Signed> standing = standing();
    if (standing.isEmpty()) {
      return;
    }
    RawRecords.Signed wrong = any(standing);
    Person by = any(instructors);
    TaskId task = wrong.grade().task();
    String tag = random.nextBoolean() ? wrong.grade().tag() : any(TAGS);
    Draft draft =
        bench.open(by.id(), wrong.grade().apprentice(), task, tag, entries(task), Optional.of(wrong.record()));
    raw.begun.add(new RawRecords.Begun(draft.id(), Optional.empty(), by.id(), clock.instant()));
    clock.pass(Duration.ofMinutes(1 + random.nextInt(20)));
    sign(draft, apprentice(wrong.grade().apprentice()), by);
  }

  private Person apprentice(UUID id) {
    return apprentices.stream().filter(a -> a.id().equals(id)).findFirst().orElseThrow();
  }

  private void withdraw() {
    List<RawRecords.Signed> standing = standing();
    if (!standing.isEmpty()) {
      RawRecords.Signed record = any(standing);
      Person by = any(instructors);
      Signing signing =
          records.withdraw(records.find(record.record()).orElseThrow(), "It was not theirs.", by, TASKS.edition());
      if (!(signing instanceof Signing.Signed)) {
        throw new AssertionError("expected that it is withdrawn: " + signing);
      }
      raw.withdrawn.add(new RawRecords.Withdrawn(record.record(), by.id(), clock.instant()));
    }
  }

  private void second() {
    List<RawRecords.Signed> waiting = standing().stream()
        .filter(s -> s.grade().secondSignature() && !raw.isSeconded(s.record(), clock.instant())).toList();
    if (!waiting.isEmpty()) {
      RawRecords.Signed record = any(waiting);
      Person by = any(instructors.stream().filter(i -> !i.id().equals(record.by())).toList());
      Signing signing = records.signSecond(records.find(record.record()).orElseThrow(), by, TASKS.edition());
      if (!(signing instanceof Signing.Signed)) {
        throw new AssertionError("expected a second signature: " + signing);
      }
      raw.seconded.add(new RawRecords.Seconded(record.record(), by.id(), clock.instant()));
    }
  }

  /** Somebody grades once more what was signed lately, unless they did before. */
  void gradeBlind() {
    List<RawRecords.Signed> first = raw.signed.stream().filter(s -> s.corrects().isEmpty()).toList();
    if (first.isEmpty()) {
      return;
    }
    RawRecords.Signed work = first.get(Math.max(0, first.size() - 1 - random.nextInt(8)));
    Person by = any(instructors);
    boolean before = raw.gradedBlind.stream().anyMatch(g -> g.work().equals(work.record()) && g.by().equals(by.id()));
    if (by.id().equals(work.by()) || before) {
      return;
    }
    Person apprentice = apprentice(work.grade().apprentice());
    Task task = TASKS.find(work.grade().task()).orElseThrow();
    Draft draft =
        bench.openBlind(work.record(), by.id(), apprentice.id(), task.id(), work.grade().tag(), entries(task.id()));
    Grade grade = Grade.of(apprentice.id(), apprentice.fullName(), task, draft.tag(), draft.entries());
    if (!blind.keep(work.record(), by.id(), draft.id(), grade)) {
      throw new AssertionError("nobody graded it before");
    }
    raw.gradedBlind.add(new RawRecords.GradedBlind(work.record(), by.id(), grade, clock.instant()));
  }

  // -- drills

  private void drill() {
    Person who = any(apprentices);
    Optional<UUID> assignment = random.nextBoolean() ? assignmentFor(who) : Optional.empty();
    int attempt = assignment.map(a -> attempts.merge(List.of(a, who.id()), 1, Integer::sum)).orElse(1);
    List<ConceptId> asked = new ArrayList<>(parts);
    Collections.shuffle(asked, random);
    List<Item> items = new ArrayList<>();
    int length = 1 + random.nextInt(Math.min(7, asked.size()));
    for (int i = 0; i < length; i++) {
      items.add(item(i + 1, asked.get(i)));
    }
    Plan plan = Plan.ofParts(asked.subList(0, length), Set.copyOf(items.stream().map(Item::kind).toList()), true);
    Sitting sitting = new Sitting(
        new UUID(random.nextLong(), random.nextLong()), who.id(), assignment, attempt, "Names", plan, random.nextLong(),
        "e1", clock.instant(), items);
    drills.open(sitting).orElseThrow();
    raw.sat.add(new RawRecords.Sat(sitting.id(), who.id(), assignment, attempt, length, clock.instant()));
    // some stop before the end
    int answered = random.nextInt(5) == 0 ? random.nextInt(length + 1) : length;
    for (Item item : items.subList(0, answered)) {
      clock.pass(Duration.ofSeconds(3 + random.nextInt(90)));
      answer(sitting, item);
    }
  }

  private Optional<UUID> assignmentFor(Person who) {
    Cohort cohort = any(cohorts);
    boolean member = raw.memberships.stream()
        .anyMatch(m -> m.person().equals(who.id()) && m.cohort().equals(cohort.id()) && m.leftOn().isEmpty());
    if (!member) {
      return Optional.empty();
    }
    List<RawRecords.Set> set = raw.set.stream().filter(s -> s.cohort().equals(cohort.id())).toList();
    if (set.size() > 3 || (!set.isEmpty() && random.nextInt(4) > 0)) {
      return Optional.of(any(set).assignment());
    }
    Assignment assignment = new Assignment(
        new UUID(random.nextLong(), random.nextLong()), cohort.id(), Set.of(), any(instructors).id(), "Names of the day",
        Plan.ofParts(parts.subList(0, Math.min(5, parts.size())), Set.of(ItemKind.NAME), true),
        Conditions.dueOn(today().plusDays(14)), clock.instant(), Optional.empty());
    drills.assignments().add(assignment);
    raw.set.add(new RawRecords.Set(assignment.id(), cohort.id(), clock.instant()));
    return Optional.of(assignment.id());
  }

  private Item item(int position, ConceptId part) {
    int sort = random.nextInt(10);
    if (sort < 6) {
      return new Item(position, ItemKind.NAME, part, "left", Set.of(), 1);
    }
    if (sort < 8) {
      return new Item(position, ItemKind.FIND, part, "left", Set.of(), 1);
    }
    List<ConceptId> others = new ArrayList<>(parts);
    others.remove(part);
    Collections.shuffle(others, random);
    List<Option> options = new ArrayList<>();
    options.add(new Option(part.value(), TRUMPET.get(part).term(), true, ""));
    others.subList(0, 3).forEach(o -> options.add(new Option(o.value(), TRUMPET.get(o).term(), false, "")));
    Collections.shuffle(options, random);
    return new Item(
        position, ItemKind.CHOOSE_NAME, part, "left", Set.of(), 1, Optional.of(part),
        new Interaction.Choice("", List.of(), options));
  }

  private void answer(Sitting sitting, Item item) {
    Answer answer;
    Outcome outcome;
    if (item.kind() == ItemKind.CHOOSE_NAME) {
      Option chosen = random.nextBoolean() ? item.choice().orElseThrow().key() : any(item.choice().orElseThrow().options());
      answer = new Answer.Chosen(random.nextInt(8) == 0 ? Optional.empty() : Optional.of(chosen.id()));
      boolean right = answer.equals(new Answer.Chosen(Optional.of(item.key().value())));
      Optional<ConceptId> other = right ? Optional.empty() : ((Answer.Chosen) answer).option().map(ConceptId::of);
      outcome = new Outcome(right ? "right" : other.isPresent() ? "other-part" : "unknown", right ? 1 : 0, "Said so.", other);
    } else {
      outcome = outcome(item.key());
      answer = item.kind() == ItemKind.NAME ? new Answer.Typed(any(TYPED))
          : new Answer.Pointed(outcome.isRight() ? Optional.of(item.key()) : outcome.takenFor());
    }
    Optional<String> phrase =
        answer instanceof Answer.Typed typed ? Optional.of(TermReader.normalForm(typed.text())) : Optional.empty();
    Response kept = drills.answer(sitting, item, answer, phrase, outcome, clock.instant());
    raw.answered.add(
        new RawRecords.Answered(
            kept.id(), sitting.id(), item.position(), sitting.person(), item.kind(), item.key(), phrase,
            answer instanceof Answer.Chosen c ? c.option() : Optional.empty(), item.choice().map(c -> c.key().id()),
            outcome.verdict(), outcome.credit(), outcome.takenFor(), clock.instant()));
  }

  private Outcome outcome(ConceptId part) {
    int sort = random.nextInt(10);
    if (sort < 5) {
      return new Outcome("right", 1, "Right.", Optional.empty());
    }
    if (sort < 6) {
      return new Outcome("right-colloquial", 0.5, "An everyday name.", Optional.empty());
    }
    if (sort < 8) {
      List<ConceptId> others = parts.stream().filter(p -> !p.equals(part)).toList();
      return new Outcome("other-part", 0, "Another part.", Optional.of(any(others)));
    }
    return new Outcome("unknown", 0, "Not known.", Optional.empty());
  }

  private void rule() {
    List<RawRecords.Answered> typed = raw.answered.stream().filter(a -> a.phrase().isPresent()).toList();
    if (typed.isEmpty()) {
      return;
    }
    RawRecords.Answered answer = any(typed);
    String phrase = answer.phrase().orElseThrow();
    boolean ruled = rulings.stream()
        .anyMatch(r -> r.ruling().phrase().equals(phrase) && r.ruling().part().equals(answer.part()));
    if (ruled) {
      return;
    }
    double credit = random.nextInt(3) / 2.0;
    Outcome then = new Outcome(credit > 0 ? "right-synonym" : "unknown", credit, "Ruled.", Optional.empty());
    Map<UUID, Outcome> regraded = new LinkedHashMap<>();
    RuledAnswer ruling = SignedRulings.rule(
        database, any(instructors).id(), phrase, answer.part(), clock.instant(),
        response -> note(regraded, response, response.item().key().equals(answer.part()) ? then : response.now()));
    rulings.add(ruling);
    raw.ruled.add(new RawRecords.Ruled(ruling.id(), phrase, answer.part(), clock.instant()));
    keep(regraded, ruling.id());
  }

  private static Outcome note(Map<UUID, Outcome> regraded, Response response, Outcome then) {
    if (!then.equals(response.now())) {
      regraded.put(response.id(), then);
    }
    return then;
  }

  private void keep(Map<UUID, Outcome> regraded, UUID ruling) {
    regraded.forEach((response, then) -> raw.regraded.add(
        new RawRecords.Regraded(response, ruling, then.verdict(), then.credit(), then.takenFor(), clock.instant())));
  }

  private void undo() {
    if (!rulings.isEmpty()) {
      RuledAnswer ruling = rulings.remove(random.nextInt(rulings.size()));
      raw.rulingsUndone.add(new RawRecords.RulingUndone(ruling.id(), clock.instant()));
      Map<UUID, Outcome> regraded = new LinkedHashMap<>();
      SignedRulings.undo(
          database, ruling, any(instructors).id(), clock.instant(),
          response -> note(
              regraded, response,
              response.item().key().equals(ruling.ruling().part()) ? response.first() : response.now()));
      keep(regraded, ruling.id());
    }
  }

  // -- hours, prior learning, comings and goings

  private void enterHours() {
    Instant now = clock.instant();
    List<RawRecords.Hours> open = raw.hours.stream()
        .filter(h -> raw.hours.stream().noneMatch(c -> c.corrects().filter(h.entry()::equals).isPresent())).toList();
    boolean corrects = !open.isEmpty() && random.nextInt(4) == 0;
    RawRecords.Hours entry;
    if (corrects) {
      RawRecords.Hours wrong = any(open);
      entry = new RawRecords.Hours(
          UUID.randomUUID(), wrong.apprentice(), wrong.day(), 30 * random.nextInt(10), Optional.of(wrong.entry()),
          any(instructors).id(), now);
    } else {
      entry = new RawRecords.Hours(
          UUID.randomUUID(), any(apprentices).id(), today().minusDays(random.nextInt(30)), 30 + 30 * random.nextInt(9),
          Optional.empty(), any(instructors).id(), now);
    }
    raw.hours.add(entry);
    hours.add(List.of(new BenchHours(
        entry.entry(), entry.apprentice(), entry.day(), entry.minutes(), "", entry.by(), "Invented", now,
        entry.corrects(), corrects ? "It was less." : "")));
  }

  private void grant() {
    Instant now = clock.instant();
    List<RawRecords.Granted> open = raw.granted.stream()
        .filter(g -> raw.grantsWithdrawn.stream().noneMatch(w -> w.grant().equals(g.grant()))).toList();
    if (!open.isEmpty() && random.nextInt(3) == 0) {
      RawRecords.Granted grant = any(open);
      Withdrawals.withdraw(equivalences, grant.grant(), coordinator, now);
      raw.grantsWithdrawn.add(new RawRecords.GrantWithdrawn(grant.grant(), now));
      return;
    }
    RawRecords.Granted grant = new RawRecords.Granted(
        UUID.randomUUID(), any(apprentices).id(), "c" + random.nextInt(RandomProgramme.COMPETENCIES),
        random.nextBoolean() ? Optional.empty() : Optional.of(today().plusDays(random.nextInt(60))), now);
    raw.granted.add(grant);
    equivalences.grant(new Equivalence(
        grant.grant(), grant.apprentice(), grant.competency(), "Seen at another bench.", coordinator.id(),
        coordinator.fullName(), now, grant.until()));
  }

  private void leave() {
    Person who = any(apprentices);
    if (left.containsKey(who.id())) {
      return;
    }
    LocalDate day = today();
    people.leave(who.id(), day);
    left.put(who.id(), day);
    replace(who, m -> m.leftOn().isEmpty() ? Optional.of(day) : m.leftOn());
  }

  private void comeBack() {
    List<UUID> gone = left.keySet().stream().sorted().toList();
    if (!gone.isEmpty()) {
      UUID who = any(gone);
      LocalDate day = left.remove(who);
      people.comeBack(who);
      replace(apprentice(who), m -> m.leftOn().filter(day::equals).isPresent() ? Optional.empty() : m.leftOn());
    }
  }

  private void replace(Person who, Function<RawRecords.Membership, Optional<LocalDate>> leftOn) {
    raw.memberships.replaceAll(m -> m.person().equals(who.id())
        ? new RawRecords.Membership(m.cohort(), m.person(), m.joinedOn(), leftOn.apply(m)) : m);
  }

  private void joinAnother() {
    Person who = any(apprentices);
    Cohort cohort = any(cohorts);
    boolean was = raw.memberships.stream()
        .anyMatch(m -> m.person().equals(who.id()) && m.cohort().equals(cohort.id()));
    boolean sameDay = raw.memberships.stream()
        .anyMatch(m -> m.person().equals(who.id()) && !m.joinedOn().isBefore(today()));
    if (!was && !sameDay && !left.containsKey(who.id())) {
      join(cohort, who, today(), Optional.empty());
    }
  }

  private void move() {
    Cohort cohort = any(cohorts);
    String now = raw.edition(cohort.id(), cohort.edition(), clock.instant());
    String next = any(programmes.stream().map(Programme::edition).filter(e -> !e.equals(now)).toList());
    Move move = new Move(
        UUID.randomUUID(), cohort.id(), next, "The new one asks for less.", coordinator.id(), coordinator.fullName(),
        clock.instant());
    if (!editions.move(List.of(move))) {
      throw new AssertionError("the cohort was on another edition");
    }
    raw.moves.add(new RawRecords.Moved(cohort.id(), next, clock.instant()));
  }
}
