package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.Statement;
import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import ferrule.store.RealDatabases;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** Backups, restores and moves of the demo programme with a second site beside it, by the commands. */
class CopiesIT {

  @TempDir static Path folder;

  private static Path source;
  private static long records;

  /** What a command said, and its exit code. */
  private record Run(int code, String said) {}

  private static Run run(Map<String, String> environment, String... arguments) {
    StringWriter said = new StringWriter();
    CommandLine line = Ferrule.commandLine();
    line.setOut(new PrintWriter(said)).setErr(new PrintWriter(said));
    return new Run(Ferrule.run(line, environment, arguments), said.toString());
  }

  private static Map<String, String> postgres(DatabaseUrl url) {
    return Map.of("FERRULE_DB_URL", url.jdbc(), "FERRULE_DB_USER", "postgres");
  }

  @BeforeAll
  static void fill() throws IOException {
    source = folder.resolve("source");
    Database database = Database.open(DatabaseUrl.h2File(source, "ferrule"));
    try (Installation demo = new Installation(
        Books.read(Curriculum.bundled()), database, HeadSigner.kept(source.resolve("head-key")), Clock.systemUTC(),
        ZoneOffset.UTC)) {
      DemoProgramme.fill(demo);
      demo.heads().current();
      records = demo.ledger().head().size();
      SiteStore sites = new SiteStore(database, Clock.systemUTC());
      Site night = new Site("night", "Night bench");
      sites.add(night);
      append(sites.open(night), 3);
      HeadSigner.kept(source.resolve("head-key-night"));
    }
  }

  private static void append(Database database, int times) {
    LedgerStore ledger = new LedgerStore(database);
    for (int i = 0; i < times; i++) {
      database.transact(dsl -> ledger.append(
          dsl, Instant.now(), at -> Statement.begin("note", UUID.randomUUID(), UUID.randomUUID(), "Invented Hand", at)));
    }
  }

  @Test
  void aBackupIsRestoredIntoACleanFolderInOneCommandWithEveryRowTheKeysAndTheChain() throws IOException {
    Path file = folder.resolve("a.zip");
    Run backup = run(Map.of(), "backup", "--data", source.toString(), "--to", file.toString(), "--rehearse");
    assertEquals(0, backup.code(), backup.said());
    assertTrue(backup.said().contains("of 2 sites"), backup.said());
    assertTrue(backup.said().contains("restore rehearsed in"), backup.said());
    assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
    System.out.println(backup.said());
    Path clean = folder.resolve("clean");
    Run restore = run(Map.of(), "restore", file.toString(), "--data", clean.toString());
    System.out.println(restore.said());
    assertEquals(0, restore.code(), restore.said());
    assertTrue(restore.said().contains("site main: " + records + " signed records, none altered"), restore.said());
    assertTrue(restore.said().contains("site night: 3 signed records, none altered"), restore.said());
    for (String key : new String[] {"head-key", "head-key-night"}) {
      assertEquals(Files.readString(source.resolve(key)), Files.readString(clean.resolve(key)));
      assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(clean.resolve(key))));
    }
    Run again = run(Map.of(), "restore", file.toString(), "--data", clean.toString());
    assertEquals(1, again.code(), "nothing is overwritten");
    assertTrue(again.said().contains("is not empty"), again.said());
  }

  @Test
  void anInstallationMovesToPostgresAndBackAgainByABackup() throws IOException {
    DatabaseUrl empty = RealDatabases.emptyPostgres();
    Run move = run(postgres(empty), "move", "--data", source.toString());
    System.out.println(move.said());
    assertEquals(0, move.code(), move.said());
    assertTrue(move.said().contains("site main: " + records + " signed records, none altered"), move.said());
    assertTrue(move.said().contains("site night: 3 signed records"), move.said());
    assertEquals(1, run(postgres(empty), "move", "--data", source.toString()).code(), "not into a filled database");
    Path file = folder.resolve("postgres.zip");
    Run backup = run(postgres(empty), "backup", "--data", source.toString(), "--to", file.toString());
    assertEquals(0, backup.code(), backup.said());
    Path back = folder.resolve("back");
    Run restore = run(Map.of(), "restore", file.toString(), "--data", back.toString());
    assertEquals(0, restore.code(), restore.said());
    assertEquals(manifest(source), manifest(back), "every table has the same rows as before both ways");
  }

  /** Rows and fingerprints of every table, as a backup names them. */
  private static String manifest(Path data) throws IOException {
    Path file = Files.createTempFile(folder, "m", ".zip");
    assertEquals(0, run(Map.of(), "backup", "--data", data.toString(), "--to", file.toString(), "--without-key").code());
    try (java.util.zip.ZipFile zip = new java.util.zip.ZipFile(file.toFile())) {
      String text = new String(zip.getInputStream(zip.getEntry("manifest.json")).readAllBytes());
      return text.substring(text.indexOf("\"schemas\""));
    }
  }

  @Test
  void aBackupIsOfOneMomentWhileOthersGoOnSigning() throws Exception {
    for (DatabaseUrl url : new DatabaseUrl[] {
      DatabaseUrl.h2File(folder.resolve("busy"), "ferrule"), RealDatabases.emptyPostgres()
    }) {
      Optional<String> user = Optional.of("postgres").filter(u -> url.jdbc().contains("postgresql"));
      try (Database database = Database.open(url, user, Optional.empty())) {
        append(database, 300);
        AtomicBoolean enough = new AtomicBoolean();
        CompletableFuture<Void> signing = CompletableFuture.runAsync(() -> {
          while (!enough.get()) {
            append(database, 1);
          }
        });
        for (int i = 0; i < 3; i++) {
          Path file = Files.createTempFile(folder, "busy", ".zip");
          // the rehearsal recomputes the log: head and entries belong together only if all is of one moment
          String made = new Backups(new ferrule.upkeep.Address(url, user, Optional.empty()), Optional.empty())
              .make(file, true);
          assertTrue(made.contains("none altered, removed or inserted"), made);
        }
        assertFalse(signing.isDone(), "signing went on");
        enough.set(true);
        signing.join();
      }
    }
  }

  @Test
  void aDamagedBackupIsRefusedAndLeavesNothingBehind() throws IOException {
    Path file = folder.resolve("damaged.zip");
    assertEquals(0, run(Map.of(), "backup", "--data", source.toString(), "--to", file.toString()).code());
    byte[] bytes = Files.readAllBytes(file);
    int refused = 0;
    for (int at : new int[] {bytes.length / 5, bytes.length / 3, bytes.length / 2, bytes.length - 40}) {
      byte[] damaged = bytes.clone();
      damaged[at] ^= 0x10;
      Files.write(file, damaged);
      Path target = folder.resolve("from-damaged-" + at);
      Run restore = run(Map.of(), "restore", file.toString(), "--data", target.toString());
      if (restore.code() == 0) {
        // it hit what a zip file says twice
        assertEquals(manifest(source), manifest(target));
      } else {
        refused++;
        assertTrue(restore.said().startsWith("not restored: "), restore.said());
        assertFalse(Files.exists(target.resolve("ferrule.mv.db")));
      }
    }
    assertTrue(refused >= 2, refused + " of 4 refused");
  }
}
