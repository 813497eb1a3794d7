package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The list that holds Ferrule against OWASP ASVS 5.0 is whole where it says so, and names tests that are there. */
class AsvsTest {

  private static final Path LIST = Path.of("src/docs/asvs.md");
  private static final Path NUMBERS = Path.of("src/test/resources/ferrule/app/asvs-numbers.txt");

  @Test
  void everyNumberOfWhatIsListedStandsOnce() {
    List<String> listed = text(LIST).lines().filter(line -> line.matches("\\| \\d.*"))
        .flatMap(line -> Stream.of(line.split("\\|")[1].trim().split(", "))).sorted().toList();

    assertEquals(text(NUMBERS).lines().sorted().toList(), listed);
  }

  @Test
  void everyTestThatIsNamedIsThere() {
    Set<String> there = files(Path.of("src/test/java"));
    Set<String> named = Pattern.compile("\\b[A-Z][A-Za-z]+(?:IT|Test)\\b").matcher(text(LIST)).results()
        .map(MatchResult::group).collect(Collectors.toSet());

    assertTrue(there.containsAll(named), () -> "of " + named + " some are not there");
    assertTrue(named.contains("HeadersIT") && named.contains("FuzzIT"), () -> "only " + named);
  }

  private static Set<String> files(Path folder) {
    try (Stream<Path> paths = Files.walk(folder)) {
      return paths.map(p -> p.getFileName().toString().replaceFirst("\\.java$", "")).collect(Collectors.toSet());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String text(Path path) {
    try {
      return Files.readString(path);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
