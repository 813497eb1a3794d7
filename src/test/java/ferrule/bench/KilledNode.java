package ferrule.bench;

import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.RECORD_LOG;

import ferrule.drill.Answer;
import ferrule.drill.DrillStore;
import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.drill.Outcome;
import ferrule.drill.Plan;
import ferrule.drill.RulingStore;
import ferrule.drill.SignedRulings;
import ferrule.drill.Sitting;
import ferrule.glossary.ConceptId;
import ferrule.ledger.HeadStore;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogCheck;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;

/**
 * A program that opens a database as the server does, looks whether everything is there that was acknowledged before,
 * and then answers, signs, corrects, withdraws and rules in several threads until it is killed. It acknowledges what it
 * wrote only after the store has returned, by one line with the id: what a browser has seen as kept.
 *
 * <p>Arguments: the database's address, and a file with the lines that were acknowledged before.
 */
final class KilledNode {

  private static final int ANSWERING = 4;
  private static final int SIGNING = 2;
  private static final int ITEMS = 40;
  private static final List<ConceptId> PARTS =
      Stream.of("third-slide-crook", "second-slide-crook", "bell-rim").map(ConceptId::of).toList();

  private final PrintStream out = System.out;
  private final Database database;
  private final PeopleStore people;
  private final Person instructor;

  private KilledNode(Database database) {
    this.database = database;
    this.people = new PeopleStore(database, Clock.systemUTC());
    this.instructor = person("instructor", Role.INSTRUCTOR);
  }

  public static void main(String[] args) throws IOException {
    Optional<String> user = args[0].startsWith("jdbc:postgresql") ? Optional.of("postgres") : Optional.empty();
    Database database = Database.open(DatabaseUrl.parse(args[0]), user, Optional.empty());
    KilledNode node = new KilledNode(database);
    node.check(Files.readAllLines(Path.of(args[1])));
    for (int i = 0; i < ANSWERING; i++) {
      new Thread(node::answer, "answering " + i).start();
    }
    for (int i = 0; i < SIGNING; i++) {
      new Thread(node::sign, "signing " + i).start();
    }
    new Thread(node::rule, "ruling").start();
  }

  private Person person(String name, Role role) {
    Person person = new Person(UUID.randomUUID(), name + UUID.randomUUID(), "Invented " + name, role, Optional.empty());
    people.add(person, Optional.empty(), Optional.empty());
    return person;
  }

  /** Says "sound" and the number of records, or what is wrong. */
  private void check(List<String> acknowledged) {
    Set<String> there = new HashSet<>();
    database.dsl().select(DRILL_RESPONSE.ID).from(DRILL_RESPONSE).forEach(r -> there.add("answer " + r.value1()));
    database.dsl().select(RECORD_LOG.ID).from(RECORD_LOG).forEach(r -> there.add("record " + r.value1()));
    List<String> lost = acknowledged.stream().filter(line -> !there.contains(line)).toList();
    LogCheck.Result result = new LedgerStore(database).check(
        HeadStore.witnesses(database),
        List.of(new RulingStore(database), new PhotoStore(database, Clock.systemUTC())), done -> {});
    boolean sound = lost.isEmpty() && result instanceof LogCheck.Sound;
    say(sound ? "sound " + there.size() : "unsound: " + result + "; " + lost.size() + " lost: " + lost);
  }

  private void say(String line) {
    synchronized (out) {
      out.println(line);
      out.flush();
    }
  }

  private void answer() {
    DrillStore drills = new DrillStore(database);
    Person apprentice = person("apprentice", Role.APPRENTICE);
    while (true) {
      Sitting sitting = drills.open(sitting(apprentice)).orElseThrow();
      for (Item item : sitting.items()) {
        Outcome outcome = new Outcome("unknown", 0, "Not a name of any part.", Optional.empty());
        Answer typed = new Answer.Typed("upside down thing");
        say("answer " + drills.answer(
            sitting, item, typed, Optional.of("upside down thing"), outcome, Instant.now()).id());
      }
    }
  }

  private static Sitting sitting(Person apprentice) {
    List<Item> items = new ArrayList<>();
    for (int i = 1; i <= ITEMS; i++) {
      items.add(new Item(i, ItemKind.NAME, PARTS.get(i % PARTS.size()), "left", Set.of("student"), i));
    }
    Plan plan = Plan.ofParts(PARTS, Set.of(ItemKind.NAME), true);
    return new Sitting(
        UUID.randomUUID(), apprentice.id(), Optional.empty(), 1, "To the end", plan, 1, "e1", Instant.now(), items);
  }

  private void sign() {
    BenchStore bench = new BenchStore(database, Clock.systemUTC());
    RecordStore records = new RecordStore(database, Clock.systemUTC());
    Person apprentice = person("apprentice", Role.APPRENTICE);
    while (true) {
      LoggedRecord first = signed(bench, records, apprentice, Optional.empty());
      LoggedRecord corrected = signed(bench, records, apprentice, Optional.of(first.id()));
      acknowledge(records.withdraw(corrected, "Wrong instrument.", instructor, "e1"));
    }
  }

  private LoggedRecord signed(BenchStore bench, RecordStore records, Person apprentice, Optional<UUID> corrects) {
    Entries sound = Samples.soundWaterKey();
    Entries entries = new Entries(
        true, sound.levels(), sound.readings(), sound.lowers(), sound.uppers(), "A piece",
        corrects.isPresent() ? "Read the wrong scale." : "");
    Draft draft = bench.open(instructor.id(), apprentice.id(), Samples.WATER_KEY, "T-1", entries, corrects);
    Grade grade =
        Grade.of(apprentice.id(), apprentice.fullName(), Samples.waterKey(), draft.tag(), draft.entries());
    return acknowledge(records.signAnotherPiece(draft, grade, instructor, "e1"));
  }

  private LoggedRecord acknowledge(Signing signing) {
    LoggedRecord kept = ((Signing.Signed) signing).entry();
    say("record " + kept.id());
    return kept;
  }

  private void rule() {
    for (long i = System.nanoTime(); true; i++) {
      var ruling = SignedRulings.rule(database, instructor.id(), "word " + Long.toString(i, 26), now());
      say("record " + ruling.id());
      SignedRulings.undo(database, ruling, instructor.id(), now());
    }
  }

  /** To the millisecond, as all that is signed. */
  private static Instant now() {
    return Instant.now().truncatedTo(ChronoUnit.MILLIS);
  }
}
