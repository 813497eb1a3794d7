package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import ferrule.store.DatabaseUrl;
import ferrule.upkeep.Address;
import ferrule.web.Browser;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
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

  private Process serve(Path data, Path log) throws IOException {
    return new ProcessBuilder(
        Path.of(System.getProperty("java.home"), "bin", "java").toString(), "-XX:TieredStopAtLevel=1", "-cp",
        System.getProperty("java.class.path"), "ferrule.app.Ferrule", "serve", "--demo", "--port", "0", "--data",
        data.toString())
        .redirectErrorStream(true).redirectOutput(log.toFile()).start();
  }

  private static int port(Path log) throws IOException, InterruptedException {
    Instant until = Instant.now().plusSeconds(90);
    while (Instant.now().isBefore(until)) {
      Optional<String> open = Files.readString(log).lines().filter(l -> l.startsWith("Ferrule is open at")).findFirst();
      if (open.isPresent()) {
        return Integer.parseInt(open.get().replaceFirst(".*:(\\d+)/$", "$1"));
      }
      Thread.sleep(200);
    }
    throw new AssertionError("the server did not start:\n" + Files.readString(log));
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
    Process server = serve(disk, log);
    try {
      int port = port(log);
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
          assertEquals(503, answer.status(), answer.body());
          assertTrue(answer.body().contains("The disk is full") || answer.body().contains("cannot be reached just now"),
              answer.body());
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
      server = serve(disk, log);
      Browser again = new Browser(port(log));
      again.signIn("isolde", "brass lantern", "/");
      expectAll(again, acknowledged, refused);
      stop(server);
      assertTrue(RecordCheck.everySite(
          new Address(DatabaseUrl.h2File(disk, "demo"), Optional.empty(), Optional.empty())).get(0).contains("none altered"));
    } finally {
      stop(server);
      System.out.println(Files.readString(log).lines().filter(l -> !l.startsWith("\t")).limit(15).toList());
      run("umount", disk.toString());
    }
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
