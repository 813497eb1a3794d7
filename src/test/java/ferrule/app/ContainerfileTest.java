package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;

/** What can be said of the container file without building it. */
class ContainerfileTest {

  private static List<String> lines() throws IOException {
    return Files.readAllLines(Path.of("Containerfile"));
  }

  @Test
  void whatItCopiesIsThereAndNotIgnored() throws IOException {
    List<String> let = Files.readAllLines(Path.of(".containerignore"));
    for (String line : lines()) {
      if (line.startsWith("COPY ") && !line.contains("--from=")) {
        String source = line.split(" ")[1];
        assertTrue(Files.exists(Path.of(source)), line);
        assertTrue(let.contains("!" + source), source + " is left out by .containerignore");
      }
    }
  }

  @Test
  void itRunsAsNobodyInParticularAndSaysHowItIs() throws IOException {
    List<String> lines = lines();
    int last = lines.lastIndexOf(lines.stream().filter(l -> l.startsWith("FROM ")).reduce((a, b) -> b).orElseThrow());
    List<String> image = lines.subList(last, lines.size());
    assertTrue(image.contains("USER 10001:10001"), "not as root");
    assertTrue(image.stream().anyMatch(l -> l.startsWith("HEALTHCHECK")));
    assertTrue(Ferrule.commandLine().getSubcommands().keySet().containsAll(List.of("serve", "health")));
  }

  @Test
  void everySettingInItIsOne() throws IOException {
    Map<String, String> set = new TreeMap<>();
    Matcher settings = Pattern.compile("(FERRULE_[A-Z_]+)=(\\S+)").matcher(Files.readString(Path.of("Containerfile")));
    while (settings.find()) {
      set.put(settings.group(1), settings.group(2));
    }
    assertTrue(set.size() >= 5, set.toString());
    CommandLine commands = Ferrule.commandLine();
    assertEquals(List.of(), Settings.strangers(commands, set));
  }
}
