package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import ferrule.store.DatabaseUrl;
import ferrule.upkeep.Address;
import ferrule.web.Browser;
import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;

/**
 * A server whose disk fills up while it is written to, and gets room again. It mounts a small disk in memory, which takes
 * an administrator: only with {@code -Dferrule.disk=full}.
 */
@EnabledIfSystemProperty(named = "ferrule.disk", matches = "full")
class DiskFullIT {

  @TempDir Path folder;

  private static int run(String... command) throws IOException, InterruptedException {
    Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
    process.getInputStream().readAllBytes();
    return process.waitFor();
  }

  private static Browser.Answer add(Browser browser, String csrf, String tag) {
    return browser.post("/bench/instruments",
        Map.of("csrf", csrf, "tag", tag, "description", "invented ".repeat(20), "kind", "trumpet"));
  }

  @Test
  void whatWasAcknowledgedIsThereAfterTheDiskWasFullAndWhatWasNotIsRefusedWithAClearPage() throws Exception {
    Path disk = Files.createDirectories(folder.resolve("disk"));
    assumeTrue(run("mount", "-t", "tmpfs", "-o", "size=2g", "tmpfs", disk.toString()) == 0, "a small disk can be made");
    Path log = folder.resolve("server.log");
    Process server = FerruleProcess.serve(disk, log);
    try {
      int port = FerruleProcess.port(log);
      Browser isolde = new Browser(port);
      isolde.signIn("isolde", "brass lantern", "/");
      String csrf = isolde.get("/bench/instruments").hidden("csrf");
      Path filler = disk.resolve("filler");
      fillUp(filler);
      List<String> acknowledged = new ArrayList<>();
      List<String> refused = new ArrayList<>();
      Instant until = Instant.now().plusSeconds(60);
      for (int i = 0; refused.size() < 10 && Instant.now().isBefore(until); i++) {
        Browser.Answer answer = add(isolde, csrf, "tag-" + i);
        if (answer.status() == 303) {
          acknowledged.add("tag-" + i);
        } else {
          expectClear(answer);
          refused.add("tag-" + i);
        }
      }
      assertEquals(10, refused.size(), "the disk was full");
      Files.delete(filler);
      Instant room = Instant.now();
      int more = 0;
      while (more < 5 && Instant.now().isBefore(room.plusSeconds(60))) {
        Browser.Answer answer = add(isolde, csrf, "later-" + more);
        if (answer.status() == 303) {
          acknowledged.add("later-" + more++);
        } else {
          Thread.sleep(500);
        }
      }
      System.out.println(acknowledged.size() - more + " acknowledged before the disk was full, 10 refused; " + more
          + " acknowledged " + Duration.between(room, Instant.now()).toMillis() + " ms after there was room");
      expectAll(isolde, acknowledged, refused);
      stop(server);
      assertEquals(5, more, "the server goes on by itself once there is room");
      server = FerruleProcess.serve(disk, log);
      Browser again = new Browser(FerruleProcess.port(log));
      again.signIn("isolde", "brass lantern", "/");
      expectAll(again, acknowledged, refused);
      stop(server);
      assertTrue(RecordCheck.everySite(
          new Address(DatabaseUrl.h2File(disk, "demo"), Optional.empty(), Optional.empty())).get(0).contains("none altered"));
    } finally {
      stop(server);
      System.out.println(Files.readString(log).lines().filter(l -> !l.startsWith(" ")).limit(15).toList());
      run("umount", disk.toString());
    }
  }

  private static void expectClear(Browser.Answer answer) {
    assertEquals(503, answer.status(), answer.body());
    assertTrue(answer.body().contains("The disk is full") || answer.body().contains("cannot be reached just now"),
        answer.body());
  }

  /** What people did on a server whose disk fills up, and what they were told of it. */
  private static final class Evening {
    final List<String> tags = new ArrayList<>();
    final List<String> refusedTags = new ArrayList<>();
    final List<String> records = new ArrayList<>();
    final Browser isolde;
    final Browser wren;
    final String csrf;
    final String sitting;
    int answers;
    int refused;

    Evening(int port) {
      isolde = new Browser(port);
      isolde.signIn("isolde", "brass lantern", "/");
      csrf = isolde.get("/bench/instruments").hidden("csrf");
      wren = new Browser(port);
      wren.signIn("wren", "copper kettle", "/");
      Browser.Answer practise = wren.get("/practise");
      sitting = wren.post("/practise/self-test",
          Map.of("csrf", practise.hidden("csrf"), "assembly", "", "kind", "name", "length", "40")).location();
    }

    /** An instrument, an answer and a sign-off; each is acknowledged, or refused with a clear page. */
    void goOn(String tag) {
      if (taken(add(isolde, csrf, tag))) {
        tags.add(tag);
      } else {
        refusedTags.add(tag);
      }
      answer();
      sign();
    }

    private boolean taken(Browser.Answer answer) {
      boolean taken = answer.status() < 400;
      if (!taken) {
        expectClear(answer);
        refused++;
      }
      return taken;
    }

    private void answer() {
      Browser.Answer where = wren.get(sitting);
      if (!taken(where) || where.location().endsWith("/result")) {
        return;
      }
      Browser.Answer item = wren.get(where.location());
      if (taken(item) && taken(wren.post(where.location(), Map.of(
          "csrf", item.hidden("csrf"), "key", item.hidden("key"), "answer", "third slide crook")))) {
        answers++;
      }
    }

    private void sign() {
      Browser.Answer begun = isolde.post("/bench/drafts", Map.of("csrf", csrf, "apprentice",
          DemoProgramme.id("Wren Aldous").toString(), "task", "water-key-cork-or-pad", "tag", "T-07"));
      if (!taken(begun)) {
        return;
      }
      String draft = begun.location();
      Map<String, String> entries = new HashMap<>(Map.of(
          "level.cup-clean", "3", "level.fit-in-cup", "4", "level.seat", "4", "level.seal", "2", "level.spring", "4",
          "lower.opening", "2", "upper.opening", "4", "reading.opening", "2.5", "csrf", csrf));
      entries.put("go", "review");
      if (taken(isolde.post(draft + "/cautions", Map.of("csrf", csrf))) && taken(isolde.post(draft, entries))) {
        Browser.Answer review = isolde.get(draft + "/review");
        if (taken(review)) {
          Browser.Answer signed = isolde.post(draft + "/sign",
              Map.of("csrf", csrf, "shown", review.hidden("shown"), "pin", "2468", "another", "yes"));
          if (taken(signed)) {
            records.add(signed.location());
          }
        }
      }
    }

    /** What was acknowledged is there. */
    void expectAll(Browser browser) {
      DiskFullIT.expectAll(browser, tags, refusedTags);
      for (String record : records) {
        assertEquals(200, browser.get(record).status(), record + " was acknowledged");
      }
    }
  }

  @Test
  void thatOfPostgresFillsUpAndWhatWasAcknowledgedIsThereWhenThereIsRoom() throws Exception {
    Path disk = Files.createDirectories(folder.resolve("disk"));
    assumeTrue(run("mount", "-t", "tmpfs", "-o", "size=400m,mode=777", "tmpfs", disk.toString()) == 0,
        "a small disk can be made");
    Path log = folder.resolve("server.log");
    EmbeddedPostgres postgres = postgres(disk, 0);
    int databasePort = postgres.getPort();
    String url = postgres.getJdbcUrl("postgres", "postgres");
    Address address = new Address(DatabaseUrl.parse(url), Optional.of("postgres"), Optional.empty());
    Process server = FerruleProcess.serve(folder, log, "--db", url, "--db-user", "postgres");
    try {
      Evening evening = new Evening(FerruleProcess.port(log));
      long before = records(url);
      evening.goOn("first");
      Path filler = disk.resolve("filler");
      fillUp(filler);
      Instant until = Instant.now().plusSeconds(90);
      for (int i = 0; evening.refused < 12 && Instant.now().isBefore(until); i++) {
        evening.goOn("tag-" + i);
      }
      assertTrue(evening.refused >= 12, "the disk was full");
      String told = evening.tags.size() + " instruments, " + evening.answers + " answers, " + evening.records.size()
          + " sign-offs acknowledged before the disk was full, " + evening.refused + " requests refused";
      Files.delete(filler);
      boolean gone = !answers(url);
      if (gone) {
        // it stopped for good when it could not go on with its own log: whoever looks after it starts it again
        postgres.close();
        postgres = postgres(disk, databasePort);
      }
      Instant room = Instant.now();
      int signed = evening.records.size();
      for (int i = 0; evening.records.size() < signed + 3 && Instant.now().isBefore(room.plusSeconds(60)); i++) {
        evening.goOn("later-" + i);
        Thread.sleep(200);
      }
      System.out.println(told + (gone ? "; the database had stopped and was started again" : "; the database went on")
          + "; 3 more sign-offs " + Duration.between(room, Instant.now()).toMillis() + " ms after there was room");
      assertEquals(signed + 3, evening.records.size(), "the server goes on by itself once there is room");
      evening.expectAll(evening.isolde);
      stop(server);
      server = FerruleProcess.serve(folder, log, "--db", url, "--db-user", "postgres");
      Browser again = new Browser(FerruleProcess.port(log));
      again.signIn("isolde", "brass lantern", "/");
      evening.expectAll(again);
      long kept = count(url, "select count(*) from drill_response r where r.sitting_id = '"
          + evening.sitting.replaceFirst(".*/drill/([0-9a-f-]{36}).*", "$1") + "'");
      assertTrue(kept >= evening.answers, kept + " answers of " + evening.answers);
      stop(server);
      String sound = RecordCheck.everySite(address).get(0);
      assertTrue(sound.contains("none altered"), sound);
      long records = records(url) - before;
      assertTrue(records >= evening.records.size(), records + " records of " + evening.records.size());
    } finally {
      stop(server);
      System.out.println(Files.readString(log).lines().filter(l -> !l.startsWith(" ")).limit(15).toList());
      postgres.close();
      run("umount", disk.toString());
    }
  }

  private static EmbeddedPostgres postgres(Path disk, int port) throws IOException {
    return EmbeddedPostgres.builder().setDataDirectory(disk.resolve("postgres")).setCleanDataDirectory(false)
        .setServerConfig("max_wal_size", "64MB").setPort(port).start();
  }

  private static long records(String url) throws SQLException {
    return count(url, "select count(*) from record_log");
  }

  private static long count(String url, String sql) throws SQLException {
    try (Connection connection = DriverManager.getConnection(url, "postgres", "");
        Statement statement = connection.createStatement(); ResultSet row = statement.executeQuery(sql)) {
      row.next();
      return row.getLong(1);
    }
  }

  /** Whether the database is there within a quarter of a minute. */
  private static boolean answers(String url) throws InterruptedException {
    for (int i = 0; i < 30; i++) {
      try {
        records(url);
        return true;
      } catch (SQLException e) {
        Thread.sleep(500);
      }
    }
    return false;
  }

  private static void expectAll(Browser browser, List<String> acknowledged, List<String> refused) {
    String page = browser.get("/bench/instruments").body();
    for (String tag : acknowledged) {
      assertTrue(page.contains("<th scope=\"row\">" + tag + "<"), tag + " was acknowledged and is not there");
    }
    for (String tag : refused) {
      assertFalse(page.contains("<th scope=\"row\">" + tag + "<"), tag + " was refused and is there");
    }
  }

  private static void stop(Process server) throws InterruptedException {
    server.destroy();
    assertTrue(server.waitFor(60, TimeUnit.SECONDS), "it stops when it is told to");
  }

  /** Takes all the room but a little. */
  private static void fillUp(Path file) throws IOException {
    byte[] block = new byte[1 << 14];
    try (OutputStream out = Files.newOutputStream(file)) {
      while (file.toFile().getUsableSpace() > 200_000) {
        out.write(block);
      }
    }
  }
}
