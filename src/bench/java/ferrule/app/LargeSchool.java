package ferrule.app;

import ferrule.bench.InventedWork;
import ferrule.bench.Standing;
import ferrule.competency.EditionStore;
import ferrule.competency.Programme;
import ferrule.competency.ProgrammeReader;
import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.drill.DrillStore;
import ferrule.drill.InventedPlan;
import ferrule.drill.LastNamedStore;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogFilling;
import ferrule.people.Secrets;
import ferrule.store.Database;
import java.io.IOException;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.UUID;
import java.util.function.BooleanSupplier;
import org.jooq.SQLDialect;

/**
 * Fills an empty database with two years of a large invented school: cohorts of 200 apprentices, a programme of 120
 * competencies with rules of every sort, drills with answers, and signed work in the log with corrections, withdrawals,
 * second signatures and second grades.
 *
 * <p>Every row follows from the seed and its number, so a run that was broken off is gone on with. Rows are inserted in
 * batches, not through the stores; prior learning is left out of the log.
 *
 * <p>Arguments: the JDBC address, or {@code h2:FOLDER} or {@code pg:FOLDER}; then in any order {@code apprentices=10000 responses=5000000
 * signoffs=1000000 seed=1 user=NAME seconds=N}, the last of which stops after so many seconds.
 */
public final class LargeSchool {

  /** The password of those who can sign in: {@code coordinator}, {@code instructor-0} and {@code apprentice-0}. */
  public static final String PASSWORD = "copper kettle";
  /** The last moment of the school's records. */
  public static final Instant ENDS = Instant.parse("2026-11-20T18:00:00Z");

  static final int COHORT = 200;
  private static final int COMPETENCIES = 120;
  private static final int INSTRUCTORS = 40;
  private static final int ITEMS = 20;
  private static final int DRILLS = 15;
  private static final Instant BEGINS = ENDS.minus(Duration.ofDays(700));
  private static final int BATCH = 1_000;
  private static final int COMMIT = 20_000;

  private final Database database;
  private final int apprentices;
  private final long responses;
  private final long signOffs;
  private final long seed;
  private final long until;
  private final Glossary glossary;
  private final List<Concept> parts;
  private final Programme programme;

  /** A school of this size in this database, which is worked at for so long at most. */
  LargeSchool(Database database, int apprentices, long responses, long signOffs, long seed, Duration within) {
    this.database = database;
    this.apprentices = apprentices;
    this.responses = responses;
    this.signOffs = signOffs;
    this.seed = seed;
    this.until = System.nanoTime() + within.toNanos();
    this.glossary = GlossaryReader.read(Curriculum.bundled(), "trumpet", new Problems()).orElseThrow();
    this.parts = glossary.allWithin(ConceptId.of("trumpet")).stream().filter(Concept::isNameable).toList();
    this.programme = programme();
  }

  public static void main(String[] args) throws IOException, SQLException {
    Map<String, String> given = new HashMap<>();
    for (int i = 1; i < args.length; i++) {
      String[] pair = args[i].split("=", 2);
      given.put(pair[0], pair[1]);
    }
    try (SchoolDatabase school = SchoolDatabase.open(args[0], Optional.ofNullable(given.get("user")))) {
      boolean done = new LargeSchool(
          school.database(), Integer.parseInt(given.getOrDefault("apprentices", "10000")),
          Long.parseLong(given.getOrDefault("responses", "5000000")),
          Long.parseLong(given.getOrDefault("signoffs", "1000000")), Long.parseLong(given.getOrDefault("seed", "1")),
          Duration.ofSeconds(Long.parseLong(given.getOrDefault("seconds", "86400")))).fill();
      System.out.println(done ? "complete" : "to be gone on with");
    }
    SchoolDatabase.compact(args[0]);
  }

  /** Fills the database, or goes on filling it; false if the time ran out before it was complete. */
  boolean fill() throws SQLException {
    new EditionStore(database, new LedgerStore(database)).keep(programme, BEGINS);
    boolean filled = database.dsl().connectionResult(connection -> {
      boolean embedded = database.dsl().dialect() == SQLDialect.H2;
      if (embedded) {
        BulkH2.gather(connection);
      }
      connection.setAutoCommit(false);
      boolean done = people(connection) && assignments(connection) && sittings(connection) && noted(connection)
          && log(connection) && requests(connection) && hours(connection) && grants(connection) && secondGrades(connection);
      connection.commit();
      connection.setAutoCommit(true);
      if (embedded) {
        BulkH2.asBefore(connection);
      }
      return done;
    });
    return filled && learnt();
  }

  /** Looks all answers through and learns from them, as a server does in the background; false if the time ran out before. */
  private boolean learnt() {
    return done("last answers", new LastNamedStore(database)::lookSomeThrough)
        && done("what is known", new DrillStore(database).known()::takeSomeIn);
  }

  private boolean done(String what, BooleanSupplier some) {
    long began = System.nanoTime();
    boolean more = true;
    while (more && System.nanoTime() < until) {
      more = some.getAsBoolean();
    }
    System.out.printf("%s: %s in %.0f s%n", what, more ? "a part" : "all", (System.nanoTime() - began) / 1e9);
    return !more;
  }

  // -- what follows from a number

  private SplittableRandom random(String what, long number) {
    return new SplittableRandom(seed * 1_000_003 + what.hashCode() * 31L + number * 0x9E3779B97F4A7C15L);
  }

  static UUID id(int sort, long number) {
    // spread like random ids, so that neighbours are not neighbours in an index
    long mixed = number * 0x9E3779B97F4A7C15L;
    return new UUID((mixed & 0xFFFFFFFFFFFF0FFFL) | 0x4000L, (((long) sort) << 48 | number) & 0x3FFFFFFFFFFFFFFFL | 0x8000000000000000L);
  }

  static UUID apprentice(long number) {
    return id(1, number);
  }

  static UUID instructor(long number) {
    return id(2, number);
  }

  static UUID cohort(long number) {
    return id(3, number);
  }

  private static UUID assignment(long cohort, int drill) {
    return id(4, cohort * DRILLS + drill);
  }

  private static String name(long number) {
    String[] first = {"Wren", "Bram", "Edda", "Corin", "Isolde", "Magnus", "Tove", "Alder", "Sunniva", "Jory"};
    String[] last = {"Aldous", "Birk", "Carrow", "Dunmore", "Elstow", "Fenwick", "Garrick", "Holm", "Iveson", "Jarrow"};
    return first[(int) (number % 10)] + " " + last[(int) (number / 10 % 10)] + " " + number;
  }

  private static String instructorName(long number) {
    return "Instructor " + number;
  }

  private Instant moment(long number, long of) {
    long span = Duration.between(BEGINS, ENDS).toMillis();
    return BEGINS.plusMillis((long) ((double) number / of * span));
  }

  private int cohorts() {
    return (apprentices + COHORT - 1) / COHORT;
  }

  // -- rows

  private interface Row {
    void add(long number) throws SQLException;
  }

  private interface Flush {
    void flush() throws SQLException;
  }

  /** Adds rows from a number on, in transactions; false if the time ran out. */
  private boolean each(Connection connection, String what, long from, long to, Row row, Flush flush) throws SQLException {
    long began = System.nanoTime();
    for (long i = from; i < to; i++) {
      row.add(i);
      if (i % BATCH == BATCH - 1) {
        flush.flush();
      }
      if (i % COMMIT == COMMIT - 1) {
        connection.commit();
        if (System.nanoTime() > until) {
          System.out.printf("%s: %,d of %,d%n", what, i + 1, to);
          return false;
        }
      }
    }
    flush.flush();
    connection.commit();
    if (to > from) {
      System.out.printf("%s: %,d in %.0f s%n", what, to - from, (System.nanoTime() - began) / 1e9);
    }
    return true;
  }

  private static long count(Connection connection, String table) throws SQLException {
    try (var rows = connection.createStatement().executeQuery("select count(*) from " + table)) {
      rows.next();
      return rows.getLong(1);
    }
  }

  private static Object at(Instant moment) {
    return moment.atOffset(ZoneOffset.UTC);
  }

  private static void set(PreparedStatement statement, Object... values) throws SQLException {
    for (int i = 0; i < values.length; i++) {
      statement.setObject(i + 1, values[i]);
    }
    statement.addBatch();
  }

  private boolean people(Connection connection) throws SQLException {
    if (count(connection, "person") > 0) {
      return true;
    }
    String password = Secrets.hash(PASSWORD);
    try (PreparedStatement person = connection.prepareStatement(
            "insert into person (id, sign_in_name, full_name, role, password_hash, created_at, left_on)"
                + " values (?, ?, ?, ?, ?, ?, ?)");
        PreparedStatement cohort = connection.prepareStatement(
            "insert into cohort (id, title, edition, starts_on, ends_on) values (?, ?, ?, ?, ?)");
        PreparedStatement member = connection.prepareStatement(
            "insert into cohort_member (cohort_id, person_id, joined_on, left_on) values (?, ?, ?, ?)")) {
      Object created = at(BEGINS);
      set(person, id(9, 0), "coordinator", "The coordinator", "coordinator", password, created, null);
      for (int i = 0; i < INSTRUCTORS; i++) {
        set(person, instructor(i), "instructor-" + i, instructorName(i), "instructor", i == 0 ? password : null, created, null);
      }
      person.executeBatch();
      for (int i = 0; i < cohorts(); i++) {
        LocalDate starts = LocalDate.ofInstant(BEGINS, ZoneOffset.UTC).plusDays(7L * (i % 60));
        set(cohort, cohort(i), "Class " + (i + 1), programme.edition(), starts, starts.plusWeeks(104));
      }
      cohort.executeBatch();
      return each(connection, "apprentices", 0, apprentices, i -> {
        LocalDate joined = LocalDate.ofInstant(BEGINS, ZoneOffset.UTC).plusDays(7L * (i / COHORT % 60));
        LocalDate left = i % 40 == 39 ? joined.plusDays(200 + i % 300) : null;
        set(person, apprentice(i), "apprentice-" + i, name(i), "apprentice", i == 0 ? password : null, created, left);
        set(member, cohort(i / COHORT), apprentice(i), joined, left);
      }, () -> {
        person.executeBatch();
        member.executeBatch();
      });
    }
  }

  private List<Concept> asked(long drill) {
    List<Concept> asked = new ArrayList<>();
    for (int i = 0; i < ITEMS; i++) {
      asked.add(parts.get((int) ((drill * 7 + i) % parts.size())));
    }
    return asked;
  }

  private boolean assignments(Connection connection) throws SQLException {
    if (count(connection, "drill_assignment") > 0) {
      return true;
    }
    try (PreparedStatement insert = connection.prepareStatement(
        "insert into drill_assignment (id, cohort_id, set_by, title, plan, due_on, set_at) values (?, ?, ?, ?, ?, ?, ?)")) {
      return each(connection, "drills", 0, (long) cohorts() * DRILLS, i -> {
        int drill = (int) (i % DRILLS);
        Instant set = moment(drill, DRILLS);
        set(
            insert, assignment(i / DRILLS, drill), cohort(i / DRILLS), instructor(i % INSTRUCTORS), "Drill " + (drill + 1),
            InventedPlan.json(asked(drill).stream().map(Concept::id).toList()),
            LocalDate.ofInstant(set, ZoneOffset.UTC).plusDays(60), at(set));
      }, insert::executeBatch);
    }
  }

  /** Each sitting with its items and answers. */
  private boolean sittings(Connection connection) throws SQLException {
    long all = responses / ITEMS;
    long from = count(connection, "drill_sitting");
    if (from >= all) {
      return true;
    }
    Map<Integer, String> plans = new HashMap<>();
    try (PreparedStatement sitting = connection.prepareStatement(
            "insert into drill_sitting (id, person_id, assignment_id, attempt, title, plan, seed, edition, started_at)"
                + " values (?, ?, ?, ?, ?, ?, ?, ?, ?)");
        PreparedStatement item = connection.prepareStatement(
            "insert into drill_item (sitting_id, position, kind, part, view_id, variants, picture_seed, lit)"
                + " values (?, ?, ?, ?, ?, ?, ?, ?)");
        PreparedStatement response = connection.prepareStatement(
            "insert into drill_response (id, sitting_id, position, typed, phrase, pointed_at, verdict, credit, reason,"
                + " taken_for, answered_at) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
        PreparedStatement regrade = connection.prepareStatement(
            "insert into drill_regrade (id, response_id, ordinal, verdict, credit, reason, regraded_at)"
                + " values (?, ?, 1, 'paper-right', 1, 'Put right.', ?)")) {
      return each(connection, "sittings", from, all, s -> {
        SplittableRandom random = random("sitting", s);
        long person = s % apprentices;
        int drill = (int) (s / apprentices);
        UUID id = id(5, s);
        Instant started = moment(s, all);
        set(
            sitting, id, apprentice(person), drill < DRILLS ? assignment(person / COHORT, drill) : null, 1,
            drill < DRILLS ? "Drill " + (drill + 1) : "Self-test",
            plans.computeIfAbsent(drill, d -> InventedPlan.json(asked(d).stream().map(Concept::id).toList())), s, "e1",
            at(started));
        double able = 0.35 + 0.4 * (person * 7919 % 100) / 100.0 + 0.2 * s / all;
        List<Concept> asked = asked(drill);
        for (int i = 0; i < ITEMS; i++) {
          Concept part = asked.get(i);
          boolean names = random.nextInt(3) > 0;
          boolean right = random.nextDouble() < able;
          boolean taken = !right && random.nextInt(3) > 0;
          Concept other = parts.get(random.nextInt(parts.size()));
          String typed = right ? part.term() : taken ? other.term() : "thing " + random.nextInt(500);
          Instant answered = started.plusSeconds(20L * (i + 1));
          set(
              item, id, i + 1, names ? "name" : "find", part.id().value(), "players-left", "", s * ITEMS + i,
              names ? part.id().value() : null);
          long number = s * ITEMS + i;
          set(
              response, id(6, number), id, i + 1, names ? typed : null, names ? typed.toLowerCase() : null,
              names ? null : right ? part.id().value() : other.id().value(),
              right ? "right" : taken || !names ? "other-part" : "unknown", right ? 1.0 : 0.0,
              right ? "Right." : "That is another part.", right || (names && !taken) ? null : other.id().value(),
              at(answered));
          if (!right && number % 997 == 0) {
            set(regrade, id(7, number), id(6, number), at(answered.plusSeconds(86_400)));
          }
        }
      }, () -> {
        sitting.executeBatch();
        item.executeBatch();
        response.executeBatch();
        regrade.executeBatch();
      });
    }
  }

  /** Notes that all these answers are to be learnt from and looked through, as after an upgrade. */
  private boolean noted(Connection connection) throws SQLException {
    if (count(connection, "known_anew") + count(connection, "known_ability") == 0) {
      try (Statement statement = connection.createStatement()) {
        statement.executeUpdate("insert into known_anew (id, person_id, after_firsts)"
            + " select id, id, false from person where id in (select person_id from drill_sitting)");
        statement.executeUpdate("update known_through set last_at = (select max(answered_at) from drill_response)");
        statement.executeUpdate("insert into named_unread (person_id)"
            + " select id from person where id in (select person_id from drill_sitting)");
      }
    }
    return true;
  }

  private record Work(long apprentice, int task, String tag, Standing standing, long instructor) {}

  private Work work(long number) {
    SplittableRandom random = random("work", number);
    int task = random.nextInt(InventedWork.TASKS);
    // where a second signature follows, and nowhere else, the task may ask for one
    boolean mayAsk = number % 100 == 72;
    task = mayAsk ? task / InventedWork.SECOND_OF * InventedWork.SECOND_OF
        : task % InventedWork.SECOND_OF == 0 ? task + 1 : task;
    int sort = random.nextInt(10);
    Standing standing = sort < 2 ? Standing.NOT_YET : sort < 7 ? Standing.SOUND : Standing.FINE;
    return new Work(
        random.nextInt(apprentices), task, "T-" + random.nextInt(40), standing, random.nextInt(INSTRUCTORS));
  }

  private boolean log(Connection connection) throws SQLException {
    InventedWork invented = new InventedWork();
    try (LogFilling log = new LogFilling(database, connection);
        PreparedStatement draft = connection.prepareStatement(
            "insert into grade_draft (id, instructor_id, apprentice_id, task_id, tag, entries, corrects, created_at,"
                + " updated_at, signed_record) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
        PreparedStatement second = connection.prepareStatement(
            "insert into second_signature (record_id, apprentice_id, first_signer, asked_at, given_by, given_record)"
                + " values (?, ?, ?, ?, ?, ?)")) {
      return each(connection, "log", log.size(), signOffs, i -> {
        Instant at = moment(i, signOffs);
        UUID id = id(8, i);
        // of each hundred, one is corrected, one withdrawn, and one may need a second signature
        if (i % 100 == 90) {
          Work w = work(i - 9);
          log.append(invented.withdrawn(
              id, id(8, i - 9), apprentice(w.apprentice()), name(w.apprentice()), instructor(w.instructor()),
              instructorName(w.instructor()), at));
          return;
        }
        if (i % 100 == 77) {
          Work w = work(i - 5);
          if (invented.asksForSecond(w.task(), w.standing())) {
            long by = (w.instructor() + 1) % INSTRUCTORS;
            set(
                second, id(8, i - 5), apprentice(w.apprentice()), instructor(w.instructor()), at(moment(i - 5, signOffs)),
                instructor(by), id);
            log.append(invented.seconded(
                id, id(8, i - 5), apprentice(w.apprentice()), name(w.apprentice()), instructor(by), instructorName(by), at));
            return;
          }
        }
        boolean corrects = i % 100 == 49;
        Work w = corrects ? work(i - 7) : work(i);
        Standing standing = corrects ? Standing.SOUND : w.standing();
        Optional<UUID> target = corrects ? Optional.of(id(8, i - 7)) : Optional.empty();
        log.append(invented.signed(
            id, id(10, i), target, w.task(), standing, apprentice(w.apprentice()), name(w.apprentice()), w.tag(),
            instructor(w.instructor()), instructorName(w.instructor()), at));
        set(
            draft, id(10, i), instructor(w.instructor()), apprentice(w.apprentice()), InventedWork.id(w.task()).value(),
            w.tag(), invented.entries(w.task(), standing), target.orElse(null), at(at.minusSeconds(600)), at(at), id);
      }, () -> {
        log.flush();
        draft.executeBatch();
        second.executeBatch();
      });
    }
  }

  /** Of each five pieces of work, one was asked to be looked at; a few wait. */
  private boolean requests(Connection connection) throws SQLException {
    if (count(connection, "check_request") > 0) {
      return true;
    }
    try (PreparedStatement insert = connection.prepareStatement(
        "insert into check_request (id, apprentice_id, task_id, tag, asked_at, draft_id) values (?, ?, ?, ?, ?, ?)")) {
      return each(connection, "requests", 0, signOffs / 5, i -> {
        Work w = work(i * 5 + 1);
        boolean waits = i > signOffs / 5 - 20;
        set(
            insert, id(11, i), apprentice(w.apprentice()), InventedWork.id(w.task()).value(), w.tag(),
            at(moment(i * 5 + 1, signOffs).minusSeconds(7_200)), waits ? null : id(10, i * 5 + 1));
      }, insert::executeBatch);
    }
  }

  private boolean hours(Connection connection) throws SQLException {
    if (count(connection, "bench_hours") > 0) {
      return true;
    }
    try (PreparedStatement insert = connection.prepareStatement(
        "insert into bench_hours (id, apprentice_id, worked_on, minutes, what, entered_by, entered_at, reason)"
            + " values (?, ?, ?, ?, '', ?, ?, '')")) {
      long all = 30L * apprentices;
      return each(connection, "hours", 0, all, i -> {
        Instant at = moment(i, all);
        set(
            insert, id(12, i), apprentice(i % apprentices), LocalDate.ofInstant(at, ZoneOffset.UTC),
            60 + (int) (i % 7) * 30, instructor(i % INSTRUCTORS), at(at));
      }, insert::executeBatch);
    }
  }

  private boolean grants(Connection connection) throws SQLException {
    if (count(connection, "equivalence") > 0) {
      return true;
    }
    try (PreparedStatement insert = connection.prepareStatement(
        "insert into equivalence (id, apprentice_id, competency, reason, granted_by, granted_at, until_on)"
            + " values (?, ?, ?, 'Seen at another bench.', ?, ?, ?)")) {
      long all = apprentices / 10;
      return each(connection, "grants", 0, all, i -> set(
          insert, id(13, i), apprentice(i * 10), "c" + i % COMPETENCIES, instructor(i % INSTRUCTORS), at(moment(i, all)),
          i % 2 == 0 ? null : LocalDate.ofInstant(ENDS, ZoneOffset.UTC).plusDays(i % 300)), insert::executeBatch);
    }
  }

  private boolean secondGrades(Connection connection) throws SQLException {
    if (count(connection, "second_grade") > 0) {
      return true;
    }
    InventedWork invented = new InventedWork();
    try (PreparedStatement insert = connection.prepareStatement(
        "insert into second_grade (id, record_id, grader_id, draft_id, graded_at, grade) values (?, ?, ?, ?, ?, ?)")) {
      // the 30th of each hundred is plain work
      return each(connection, "second grades", 0, signOffs / 100, i -> {
        long number = i * 100 + 30;
        Work w = work(number);
        SplittableRandom random = random("second", i);
        Standing standing = random.nextInt(4) == 0 ? Standing.SOUND : w.standing();
        set(
            insert, id(14, i), id(8, number), instructor((w.instructor() + 1) % INSTRUCTORS), id(10, number),
            at(moment(number, signOffs).plusSeconds(3_600)),
            invented.gradeJson(w.task(), standing, apprentice(w.apprentice()), name(w.apprentice()), w.tag()));
      }, insert::executeBatch);
    }
  }

  // -- the programme

  private Programme programme() {
    Map<String, String> titles = new HashMap<>();
    for (int task = 0; task < InventedWork.TASKS; task++) {
      titles.put(InventedWork.id(task).value(), InventedWork.title(task));
    }
    List<String> assemblies = List.of(
        "leadpipe-assembly", "main-slide-assembly", "first-slide-assembly", "second-slide-assembly", "third-slide-assembly",
        "first-piston-assembly", "second-piston-assembly", "third-piston-assembly", "bell-assembly", "main-slide-water-key");
    assemblies.forEach(a -> titles.put(a, glossary.get(ConceptId.of(a)).term()));
    StringBuilder yaml = new StringBuilder("id: large\ntitle: The large invented programme\nareas:\n");
    for (int i = 0; i < COMPETENCIES; i++) {
      if (i % 10 == 0) {
        yaml.append("  - id: area-").append(i / 10).append("\n    title: Area ").append(i / 10 + 1)
            .append("\n    competencies:\n");
      }
      yaml.append("      - id: c").append(i).append("\n        title: Invented work ").append(i)
          .append("\n        says: Does the invented work of sort ").append(i).append(".\n        week: ")
          .append(2 + i * 100 / COMPETENCIES).append("\n        requires: ").append(rule(i, assemblies)).append('\n');
    }
    return ProgrammeReader.kept(yaml.toString(), titles);
  }

  private static String rule(int i, List<String> assemblies) {
    String plain = signed(i % InventedWork.TASKS, 1 + i % 3, ", instruments: " + (1 + i % 2));
    return switch (i % 10) {
      case 0 -> "{names: {assembly: " + assemblies.get(i / 10 % 10) + ", percent: 80}}";
      case 1 -> "{all: [" + plain + ", {known: {assembly: " + assemblies.get(i / 10 % 10) + ", sure-percent: 20}}]}";
      case 2 -> signed(i % InventedWork.TASKS, 2, ", counting: latest");
      case 3 -> signed(i % InventedWork.TASKS, 1, ", not-older-than: 12 months");
      case 4 -> "{any: [" + plain + ", " + signed((i + 7) % InventedWork.TASKS, 2, ", standing: fine") + "]}";
      case 5 -> "{all: [" + plain + ", {holds: c" + (i - 5) + "}]}";
      case 6 -> "{all: [" + plain + ", {hours: {at-least: " + (10 + i / 2) + "}}]}";
      case 7 -> "{at-least: {n: 2, of: [" + plain + ", " + signed((i + 11) % InventedWork.TASKS, 1, "") + ", "
          + signed((i + 23) % InventedWork.TASKS, 1, ", standing: fine") + "]}}";
      case 8 -> signed(i % InventedWork.TASKS, 2, ", instructors: 2");
      default -> plain;
    };
  }

  private static String signed(int task, int times, String more) {
    return "{signed: {task: " + InventedWork.id(task) + ", times: " + times + more + "}}";
  }
}
