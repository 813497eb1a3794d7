package ferrule.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The program with the demo programme, served by a process of its own that writes into a log. */
final class FerruleProcess {

  private FerruleProcess() {}

  /** Begins to serve what is in this folder. */
  static Process serve(Path data, Path log, String... more) throws IOException {
    List<String> command = new ArrayList<>(List.of(
        Path.of(System.getProperty("java.home"), "bin", "java").toString(), "-XX:TieredStopAtLevel=1", "-cp",
        System.getProperty("java.class.path"), Ferrule.class.getName(), "serve", "--demo", "--port", "0", "--data",
        data.toString()));
    command.addAll(List.of(more));
    return new ProcessBuilder(command).redirectErrorStream(true).redirectOutput(log.toFile()).start();
  }

  /** The port that it listens on, once it is open. */
  static int port(Path log) throws IOException, InterruptedException {
    Instant until = Instant.now().plusSeconds(300);
    while (Instant.now().isBefore(until)) {
      Optional<String> open = Files.readString(log).lines().filter(l -> l.startsWith("Ferrule is open at")).findFirst();
      if (open.isPresent()) {
        return Integer.parseInt(open.get().replaceFirst(".*:(\\d+)/$", "$1"));
      }
      Thread.sleep(200);
    }
    throw new AssertionError("the server did not start:\n" + Files.readString(log));
  }
}
