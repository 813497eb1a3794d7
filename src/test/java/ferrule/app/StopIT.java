package ferrule.app;

import static ferrule.store.jooq.Tables.LOAN_INSTRUMENT;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import ferrule.web.Browser;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A server that is told to stop (SIGTERM) while people read and write. */
class StopIT {

  private static final int PEOPLE = 8;

  @TempDir Path folder;

  private final Queue<String> acknowledged = new ConcurrentLinkedQueue<>();
  private final Queue<String> odd = new ConcurrentLinkedQueue<>();

  /** Reads a page and adds an instrument, again and again, until the server does not answer any more. */
  private Thread person(int port, int number) {
    Browser browser = new Browser(port);
    browser.signIn("isolde", "brass lantern", "/");
    String csrf = browser.get("/bench/instruments").hidden("csrf");
    Thread thread = new Thread(() -> {
      try {
        for (int i = 0; isServed(browser, csrf, "tag-" + number + "-" + i); i++) {
          acknowledged.add("tag-" + number + "-" + i);
        }
      } catch (UncheckedIOException e) {
        // it is not there any more
      }
    });
    thread.start();
    return thread;
  }

  private boolean isServed(Browser browser, String csrf, String tag) {
    Browser.Answer page = browser.get("/bench/instruments");
    Browser.Answer added = page.status() == 200
        ? browser.post("/bench/instruments",
            Map.of("csrf", csrf, "tag", tag, "description", "invented", "kind", "trumpet"))
        : page;
    // while it stops it says so of requests that come then
    if (added.status() != 303 && added.status() != 503) {
      odd.add(added.status() + " " + added.body());
    }
    return added.status() == 303;
  }

  @Test
  void whatWasBegunIsFinishedBeforeTheEmbeddedDatabaseIsClosed() throws Exception {
    Path log = folder.resolve("server.log");
    Path data = folder.resolve("data");
    Process server = FerruleProcess.serve(data, log);
    try {
      int port = FerruleProcess.port(log);
      List<Thread> people = new ArrayList<>();
      for (int i = 0; i < PEOPLE; i++) {
        people.add(person(port, i));
      }
      for (int i = 0; i < 12_000 && acknowledged.size() < 5 * PEOPLE; i++) {
        Thread.sleep(10);
      }
      assertTrue(acknowledged.size() >= 5 * PEOPLE, () -> "they work: " + acknowledged + ", " + odd);

      server.destroy();

      assertTrue(server.waitFor(60, TimeUnit.SECONDS), "it stops");
      for (Thread one : people) {
        one.join();
      }
      assertEquals(List.of(), List.copyOf(odd));
      assertEquals(List.of(), complaints(log));
      try (Database database = Database.open(DatabaseUrl.h2File(data, "demo"))) {
        List<String> kept = database.dsl().select(LOAN_INSTRUMENT.TAG).from(LOAN_INSTRUMENT).fetch(LOAN_INSTRUMENT.TAG);
        assertTrue(kept.containsAll(acknowledged), () -> "of " + acknowledged + " there are " + kept);
      }
    } finally {
      server.destroyForcibly();
      server.waitFor();
    }
  }

  // that something took long is no complaint
  private static List<String> complaints(Path log) throws IOException {
    return Files.readAllLines(log).stream()
        .filter(line -> line.contains("Exception") || line.contains("a request failed") || line.contains("still at work"))
        .toList();
  }
}
