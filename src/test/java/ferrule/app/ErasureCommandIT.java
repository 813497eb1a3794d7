package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** Erasing by the command, and the log in an export, a backup and its restore afterwards. */
class ErasureCommandIT {

  @TempDir static Path folder;

  private record Run(int code, String out) {}

  private static Run run(String... arguments) {
    StringWriter out = new StringWriter();
    CommandLine line = Ferrule.commandLine();
    line.setOut(new PrintWriter(out)).setErr(new PrintWriter(out));
    int code = line.execute(arguments);
    return new Run(code, out.toString());
  }

  private static Run person(String name, String... more) {
    List<String> arguments = new ArrayList<>(List.of("person", name, "--demo", "--data", folder.toString()));
    arguments.addAll(List.of(more));
    return run(arguments.toArray(String[]::new));
  }

  private static String sound(Run run) {
    assertEquals(0, run.code(), run.out());
    return run.out();
  }

  @Test
  void anApprenticeIsErasedByTheCommandAndExportsAndCopiesStaySound() {
    UUID bram = DemoProgramme.id("Bram Okoro");
    try (Installation demo = new Installation(
        Books.read(Curriculum.bundled()), Database.open(DatabaseUrl.h2File(folder, "demo")), HeadSigner.passing(),
        Clock.systemUTC(), ZoneOffset.UTC)) {
      DemoProgramme.fill(demo);
    }
    String data = folder.toString();
    String old = folder.resolve("old.zip").toString();
    sound(run("backup", "--demo", "--data", data, "--to", old));
    assertEquals(2, person("bram", "--erase", "--leaves").code(), "no reason is given");
    assertTrue(person("bram", "--erase", "--reason", "Asked.").out().contains("has not left"));
    assertTrue(person("isolde", "--erase", "--reason", "Asked.", "--leaves").out().contains("Only apprentices"));
    String done = sound(person(bram.toString(), "--erase", "--reason", "Asked for by letter.", "--leaves"));
    assertTrue(done.contains("is Erased person ") && done.contains(bram.toString()), done);
    assertEquals(2, person("bram", "--erase", "--reason", "Again.").code());
    assertTrue(person(bram.toString(), "--erase", "--reason", "Again.").out().contains("erased already"));

    assertTrue(sound(run("verify", "--demo", "--data", data)).contains("redacted by erasures"));
    String out = folder.resolve("out").toString();
    sound(run("export", "--demo", "--data", data, "--out", out));
    assertTrue(sound(run("verify", "--file", out + "/records.jsonl")).contains("redacted by erasures"));

    String now = folder.resolve("now.zip").toString();
    sound(run("backup", "--demo", "--data", data, "--to", now));
    Path again = folder.resolve("again");
    sound(run("restore", now, "--demo", "--data", again.toString()));
    assertTrue(sound(run("verify", "--demo", "--data", again.toString())).contains("redacted by erasures"));

    Path before = folder.resolve("before");
    String told = sound(run("restore", old, "--demo", "--data", before.toString()));
    assertTrue(told.contains("erased after"), told);
    assertTrue(sound(run("person", "bram", "--demo", "--data", before.toString(), "--out",
        folder.resolve("bram.zip").toString())).contains("Bram Okoro"), "an older backup cannot know");
    sound(run("person", bram.toString(), "--erase", "--reason", "Again.", "--leaves", "--demo", "--data", before.toString()));
    assertTrue(sound(run("verify", "--demo", "--data", before.toString())).contains("redacted by erasures"));
  }
}
