package ferrule.ledger;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import java.io.BufferedReader;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.Callable;

/**
 * How long a log of many invented records takes to recompute, from the embedded database and from the exported file.
 * Arguments: a folder to make them in, and the number of records (a million if absent). Prints seconds of the clock and
 * of the one processor that the checking thread uses.
 */
final class VerifySpeed {

  private static final Instant START = Instant.parse("2026-01-05T18:00:00Z");
  private static final int BATCH = 1_000;

  private final Person apprentice = person("apprentice", Role.APPRENTICE);
  private final Person instructor = person("instructor", Role.INSTRUCTOR);

  private VerifySpeed() {}

  private static Person person(String name, Role role) {
    return new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
  }

  public static void main(String[] args) throws Exception {
    Path folder = Path.of(args[0]);
    long records = args.length > 1 ? Long.parseLong(args[1]) : 1_000_000;
    Files.createDirectories(folder);
    new VerifySpeed().run(folder, records);
  }

  private void run(Path folder, long records) throws Exception {
    Path file = folder.resolve("records.jsonl");
    try (Database database = Database.open(DatabaseUrl.h2File(folder, "verify" + records))) {
      LedgerStore ledger = new LedgerStore(database);
      if (ledger.head().size() == 0) {
        PeopleStore people = new PeopleStore(database, Clock.systemUTC());
        people.add(apprentice, Optional.empty(), Optional.empty());
        people.add(instructor, Optional.empty(), Optional.empty());
        measure("made", records, () -> fill(database, records));
        measure("exported", records, () -> export(database, ledger, file));
      }
      measure("checked in the database", records,
          () -> ledger.check(HeadStore.witnesses(database), List.of(), done -> {}));
    }
    measure("checked in the file", records, () -> {
      try (BufferedReader in = Files.newBufferedReader(file, StandardCharsets.UTF_8)) {
        return LogFile.check(in, Optional.empty());
      }
    });
  }

  private static void measure(String what, long records, Callable<?> work) throws Exception {
    long processor = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
    long clock = System.nanoTime();
    Object result = work.call();
    double seconds = (System.nanoTime() - clock) / 1e9;
    double busy = (ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime() - processor) / 1e9;
    System.out.printf(
        "%,d records %s in %.1f s (%.1f s of the processor), %,.0f a second: %s%n",
        records, what, seconds, busy, records / seconds, result);
  }

  private String fill(Database database, long records) {
    MerkleTree tree = new MerkleTree();
    long[] characters = new long[1];
    database.dsl().connection(connection -> {
      connection.setAutoCommit(false);
      try (PreparedStatement insert = connection.prepareStatement(
          "insert into record_log (number, id, kind, subject_id, draft_id, recorded_at, body, leaf_hash, root_hash,"
              + " subtree_hash) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")) {
        for (long i = 0; i < records; i++) {
          Statement said = Statement.of(SampleStatement.signOff(
              new UUID(7, i), new UUID(8, i), apprentice, instructor, START.plusSeconds(60 * i)));
          LogEntry entry = LogEntry.append(tree, said);
          characters[0] += entry.body().length();
          add(insert, entry);
          if (i % BATCH == BATCH - 1) {
            insert.executeBatch();
            connection.commit();
          }
        }
        insert.executeBatch();
      }
      moveHead(connection, tree);
      connection.commit();
    });
    return characters[0] / records + " characters each";
  }

  private static void moveHead(Connection connection, MerkleTree tree) throws SQLException {
    try (PreparedStatement update =
        connection.prepareStatement("update record_log_head set size = ?, root_hash = ?, peaks = ?")) {
      update.setLong(1, tree.size());
      update.setString(2, tree.head().root());
      update.setString(3, tree.peaks());
      update.executeUpdate();
    }
  }

  private static void add(PreparedStatement insert, LogEntry entry) throws SQLException {
    Statement said = entry.said();
    insert.setLong(1, entry.number());
    insert.setObject(2, said.id());
    insert.setString(3, said.kind());
    insert.setObject(4, said.subject().orElse(null));
    insert.setObject(5, said.draft().orElse(null));
    insert.setObject(6, said.at().atOffset(ZoneOffset.UTC));
    insert.setString(7, said.text());
    insert.setString(8, entry.leafHash());
    insert.setString(9, entry.rootHash());
    insert.setString(10, entry.subtreeHash().orElse(null));
    insert.addBatch();
  }

  private static String export(Database database, LedgerStore ledger, Path file) throws IOException {
    try (BufferedWriter out = Files.newBufferedWriter(file, StandardCharsets.UTF_8)) {
      LogFile.write(HeadStore.witnesses(database), out);
      TreeHead head = ledger.read(entry -> {
        try {
          LogFile.write(entry, out);
        } catch (IOException e) {
          throw new UncheckedIOException(e);
        }
      }).orElseThrow();
      LogFile.write(head, out);
      return head.toString();
    }
  }
}
