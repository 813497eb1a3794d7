package ferrule.ledger;

import static ferrule.store.jooq.Tables.RECORD_LOG;

import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import ferrule.store.RealDatabases;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Arrays;
import java.util.Optional;
import java.util.UUID;
import org.jooq.DSLContext;

/**
 * What the chain costs: committing a statement with the chain, as a ratio to committing the same row without it, on H2
 * in memory, H2 in a file and PostgreSQL. Both kinds take turns, so that whatever else the machine does meets both.
 * Argument: commits of each kind (2,000 if absent).
 */
final class AppendCost {

  private static final int WARM_UP = 1_500;

  private final Database database;
  private final LedgerStore ledger;
  private final Person apprentice = person("apprentice", Role.APPRENTICE);
  private final Person instructor = person("instructor", Role.INSTRUCTOR);
  private long plainNumber = 1_000_000_000;

  private AppendCost(Database database) {
    this.database = database;
    this.ledger = new LedgerStore(database);
    PeopleStore people = new PeopleStore(database, Clock.systemUTC());
    people.add(apprentice, Optional.empty(), Optional.empty());
    people.add(instructor, Optional.empty(), Optional.empty());
  }

  private static Person person(String name, Role role) {
    return new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
  }

  public static void main(String[] args) throws Exception {
    int commits = args.length > 0 ? Integer.parseInt(args[0]) : 2_000;
    measure("H2 in memory", RealDatabases.h2(), commits);
    Path folder = Files.createTempDirectory("append-cost");
    measure("H2 in a file", Database.open(DatabaseUrl.h2File(folder, "append")), commits);
    measure("PostgreSQL", RealDatabases.postgres(), commits);
    System.exit(0); // the test server's threads would stay
  }

  private static void measure(String name, Database fresh, int commits) {
    try (Database database = fresh) {
      AppendCost cost = new AppendCost(database);
      cost.run(WARM_UP);
      long[][] nanos = cost.run(commits);
      double plain = median(nanos[0]);
      double chained = median(nanos[1]);
      System.out.printf(
          "%s: commit without the chain %.0f us, with it %.0f us (medians of %d): %.2f times; means %.0f and %.0f us%n",
          name, plain / 1e3, chained / 1e3, commits, chained / plain, mean(nanos[0]), mean(nanos[1]));
    }
  }

  private static double median(long[] nanos) {
    Arrays.sort(nanos);
    return nanos[nanos.length / 2];
  }

  private static double mean(long[] nanos) {
    return Arrays.stream(nanos).average().orElse(0) / 1e3;
  }

  private long[][] run(int commits) {
    long[][] nanos = new long[2][commits];
    for (int i = 0; i < commits; i++) {
      long start = System.nanoTime();
      database.transact(this::plain);
      long between = System.nanoTime();
      database.transact(dsl -> ledger.append(dsl, Instant.now(), at -> said(UUID.randomUUID(), at)));
      nanos[0][i] = between - start;
      nanos[1][i] = System.nanoTime() - between;
    }
    return nanos;
  }

  /** The same statement in the same row of the same table, without head, hashes and order. */
  private void plain(DSLContext dsl) {
    Instant at = Instant.now().truncatedTo(ChronoUnit.MILLIS);
    Statement said = Statement.of(said(UUID.randomUUID(), at));
    dsl.insertInto(RECORD_LOG)
        .set(RECORD_LOG.NUMBER, plainNumber++)
        .set(RECORD_LOG.ID, said.id())
        .set(RECORD_LOG.KIND, said.kind())
        .set(RECORD_LOG.SUBJECT_ID, said.subject().orElse(null))
        .set(RECORD_LOG.SUPERSEDES, said.supersedes().orElse(null))
        .set(RECORD_LOG.DRAFT_ID, said.draft().orElse(null))
        .set(RECORD_LOG.RECORDED_AT, said.at())
        .set(RECORD_LOG.BODY, said.text())
        .set(RECORD_LOG.LEAF_HASH, "")
        .set(RECORD_LOG.ROOT_HASH, "")
        .execute();
  }

  private ObjectNode said(UUID id, Instant at) {
    return SampleStatement.signOff(id, UUID.randomUUID(), apprentice, instructor, at);
  }
}
