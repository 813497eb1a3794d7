package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.store.DatabaseUrl;
import ferrule.store.RealDatabases;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Kills a program that writes answers, sign-offs and rulings, as hard as can be (SIGKILL), starts it again over the same
 * database, and asks it whether all that it acknowledged is there and the log is sound. {@code -Dferrule.kills=500} for
 * more than a few.
 */
class KilledIT {

  private static final int KILLS = Integer.getInteger("ferrule.kills", 2);
  private static final int LONGEST = 600;
  // the last line may be cut: that one was not acknowledged
  private static final String WHOLE = "(answer|record) [0-9a-f-]{36}";

  private final Random random = new Random(20261125);

  @TempDir Path folder;

  @Test
  void nothingAcknowledgedIsLostOnH2() throws Exception {
    killAgainAndAgain(DatabaseUrl.h2File(folder, "killed"));
  }

  @Test
  void nothingAcknowledgedIsLostOnPostgres() throws Exception {
    killAgainAndAgain(RealDatabases.emptyPostgres());
  }

  private void killAgainAndAgain(DatabaseUrl database) throws Exception {
    Path acknowledged = Files.createFile(folder.resolve("acknowledged"));
    long lines = 0;
    for (int kill = 0; kill <= KILLS; kill++) {
      List<String> said = untilKilled(database, acknowledged);
      assertTrue(!said.isEmpty() && said.get(0).startsWith("sound"), "start " + kill + ": " + said.stream().findFirst());
      List<String> kept = said.subList(1, said.size());
      Files.write(acknowledged, kept, StandardOpenOption.APPEND);
      lines += kept.size();
    }
    System.out.println(database.dialect() + ": " + KILLS + " kills, " + lines + " writes acknowledged, none lost");
    assertTrue(lines > KILLS, "it was killed before it wrote");
  }

  /** What a program said until it was killed, at a random moment after its first acknowledgement. */
  private List<String> untilKilled(DatabaseUrl database, Path acknowledged) throws Exception {
    Process program = new ProcessBuilder(
            Path.of(System.getProperty("java.home"), "bin", "java").toString(), "-XX:TieredStopAtLevel=1",
            "-cp", System.getProperty("java.class.path"), KilledNode.class.getName(), database.jdbc(),
            acknowledged.toString())
        .redirectErrorStream(true)
        .start();
    List<String> said = new ArrayList<>();
    try (BufferedReader in = program.inputReader()) {
      long end = Long.MAX_VALUE;
      for (String line = in.readLine(); line != null; line = in.readLine()) {
        if (line.startsWith("sound") || line.matches(WHOLE)) {
          said.add(line);
        } else if (line.startsWith("unsound") || line.startsWith("Exception")) {
          said.add(0, line);
          program.destroyForcibly();
        }
        if (said.size() == 2 && end == Long.MAX_VALUE) {
          end = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(random.nextInt(LONGEST));
        }
        if (System.nanoTime() > end) {
          end = Long.MAX_VALUE - 1;
          program.destroyForcibly();
        }
      }
    } catch (IOException e) {
      // the pipe ended in the middle of a line
    } finally {
      program.destroyForcibly();
      program.waitFor();
    }
    return said;
  }
}
