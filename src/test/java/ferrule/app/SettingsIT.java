package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** A wrong setting is refused with one sentence that says where it stands and what was expected. */
class SettingsIT {

  @TempDir Path folder;

  /** What a command said, and its exit code. */
  private record Run(int code, String said) {
    String first() {
      return said.lines().findFirst().orElse("");
    }
  }

  private static Run run(Map<String, String> environment, String... arguments) {
    StringWriter said = new StringWriter();
    CommandLine line = Ferrule.commandLine();
    line.setOut(new PrintWriter(said)).setErr(new PrintWriter(said));
    int code = Ferrule.run(line, environment, arguments);
    return new Run(code, said.toString());
  }

  private Path file(String text) throws IOException {
    return Files.writeString(folder.resolve("ferrule.env"), text);
  }

  private static void refused(String sentence, Run run) {
    assertEquals(2, run.code(), run.said());
    assertEquals(sentence, run.first());
    assertFalse(run.said().contains("\tat "), "no stack trace: " + run.said());
  }

  @Test
  void aPortThatIsNoNumberIsNamedWithThePlaceWhereItStands() throws IOException {
    refused("FERRULE_PORT: 'tcp://10.0.0.7:8710' is no whole number",
        run(Map.of("FERRULE_PORT", "tcp://10.0.0.7:8710"), "serve"));
    Path file = file("# for the workshop\n\nFERRULE_PORT=eighty\n");
    refused("FERRULE_PORT in " + file + ", line 3: 'eighty' is no whole number",
        run(Map.of(), "serve", "--config", file.toString()));
    refused("Invalid value for option '--port': 'eighty' is no whole number", run(Map.of(), "serve", "--port", "eighty"));
    refused("a port is a number from 0 to 65535; given: 70000", run(Map.of("FERRULE_PORT", "70000"), "serve"));
  }

  @Test
  void theCommandLineCountsBeforeTheEnvironmentAndThatBeforeTheFile() throws IOException {
    Path file = file("FERRULE_ZONE=Nowhere/File\n");
    Map<String, String> named = Map.of("FERRULE_CONFIG", file.toString());
    Map<String, String> both = Map.of("FERRULE_CONFIG", file.toString(), "FERRULE_ZONE", "Nowhere/Environment");
    assertTrue(run(named, "serve").first().endsWith("given: Nowhere/File"));
    assertTrue(run(both, "serve").first().endsWith("given: Nowhere/Environment"));
    assertTrue(run(both, "serve", "--zone", "Nowhere/Line").first().endsWith("given: Nowhere/Line"));
  }

  @Test
  void aMisspelledSettingInTheFileIsRefusedAndTheRightOneNamed() throws IOException {
    Path file = file("FERRULE_PROT=8710\n");
    refused(file + ", line 1: FERRULE_PROT is no setting of Ferrule; did you mean FERRULE_PORT?",
        run(Map.of(), "serve", "--config=" + file));
    file("FERRULE_PORT=1\nFERRULE_PORT=2\n");
    refused(file + ", line 2: FERRULE_PORT was set before, in FERRULE_PORT in " + file + ", line 1",
        run(Map.of(), "serve", "--config=" + file));
    file("port: 8710\n");
    refused(file + ", line 1: expected a line like FERRULE_PORT=8710; found: port: 8710",
        run(Map.of(), "serve", "--config=" + file));
    Path missing = folder.resolve("missing.env");
    refused("the file of settings " + missing + " cannot be read: " + missing, run(Map.of(), "serve", "--config=" + missing));
  }

  @Test
  void aMisspelledVariableIsPointedOut() {
    Run run = run(Map.of("FERRULE_ZOEN", "UTC"), "check");
    assertEquals("FERRULE_ZOEN in the environment is no setting of Ferrule; did you mean FERRULE_ZONE?", run.first());
    assertEquals(0, run.code());
  }

  @Test
  void aDatabaseThatCannotBeOpenedIsNamedWithTheReason() throws IOException {
    refused("the database address starts with jdbc:postgresql: or jdbc:h2:, for example "
        + "jdbc:postgresql://localhost/ferrule; given: mysql://localhost/x",
        run(Map.of("FERRULE_DB_URL", "mysql://localhost/x"), "serve"));
    int closed;
    try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      closed = socket.getLocalPort();
    }
    String place = "jdbc:postgresql://127.0.0.1:" + closed + "/ferrule";
    refused("the database at " + place + " does not answer; is its server running, and is the address right?",
        run(Map.of("FERRULE_DB_URL", place + "?password=secret"), "serve"));
    Path damaged = Files.createDirectories(folder.resolve("damaged"));
    Files.writeString(damaged.resolve("ferrule.mv.db"), "not a database ".repeat(1000));
    Run run = run(Map.of("FERRULE_DATA", damaged.toString()), "serve");
    assertEquals(2, run.code());
    assertTrue(run.first().contains("is damaged or no database of this kind"), run.said());
  }

  @Test
  void aPasswordIsReadFromItsFileOrTheFileIsNamed() {
    Path missing = folder.resolve("secret");
    refused("the file of the database's password (FERRULE_DB_PASSWORD_FILE) cannot be read: " + missing,
        run(Map.of("FERRULE_DB_PASSWORD_FILE", missing.toString(), "FERRULE_DATA", folder.toString()), "serve"));
  }

  @Test
  void aPortThatIsTakenIsNamed() throws IOException {
    try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      Run run = run(Map.of("FERRULE_DATA", folder.toString(), "FERRULE_PORT", "" + taken.getLocalPort()), "serve");
      refused("port " + taken.getLocalPort() + " on 127.0.0.1 cannot be opened; is another program using it? "
          + "Another is chosen with --port", run);
    }
  }

  @Test
  void aFolderOfCurriculumThatIsNotThereIsNamed() {
    Run run = run(Map.of("FERRULE_CURRICULUM", folder.resolve("none").toString(), "FERRULE_DATA", folder.toString()), "serve");
    assertTrue(run.code() != 0);
    assertTrue(run.said().contains(folder.resolve("none").toString()) || run.first().contains("no instrument found"), run.said());
    assertFalse(run.said().contains("\tat "), run.said());
  }
}
