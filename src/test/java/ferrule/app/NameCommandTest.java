package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.ResourceLock;
import org.junit.jupiter.api.parallel.Resources;

@ResourceLock(Resources.SYSTEM_OUT)
class NameCommandTest {

  private record Run(int code, List<String> lines) {}

  private static Run run(String input, String... arguments) {
    InputStream in = System.in;
    PrintStream out = System.out;
    ByteArrayOutputStream printed = new ByteArrayOutputStream();
    try {
      System.setIn(new ByteArrayInputStream(input.getBytes(StandardCharsets.UTF_8)));
      System.setOut(new PrintStream(printed, true, StandardCharsets.UTF_8));
      int code = Ferrule.commandLine().execute(arguments);
      return new Run(code, printed.toString(StandardCharsets.UTF_8).lines().toList());
    } finally {
      System.setIn(in);
      System.setOut(out);
    }
  }

  @Test
  void eachLineGetsItsVerdictThePartsReadAndAnExplanation() {
    Run run =
        run("third-slide-crook\t3rd slide bow\nthird-slide-crook\tfirst slide crook\nbell\tcrook brace\n",
            "name", "--glossary", "trumpet");
    assertEquals(0, run.code());
    assertEquals(3, run.lines().size());
    assertTrue(run.lines().get(0).startsWith("right-synonym\tthird-slide-crook\t"), run.lines().get(0));
    assertTrue(run.lines().get(1).startsWith("wrong-qualifier\tfirst-slide-crook\t"), run.lines().get(1));
    assertTrue(run.lines().get(2).startsWith("unknown\t\t"), run.lines().get(2));
    run.lines().forEach(line -> assertEquals(3, line.split("\t", -1).length, line));
  }

  @Test
  void withoutAPartItTellsWhatTheAnswerPicksOut() {
    Run run = run("\tthird slide ring\n\tbell rim\n\tasdfgh\n\t\n", "name");
    assertTrue(
        run.lines().get(0).startsWith("too-vague\tthird-slide-fixed-ring,third-slide-adjustable-ring\t"),
        run.lines().get(0));
    assertTrue(run.lines().get(1).startsWith("right\tbell-rim\t"), run.lines().get(1));
    assertTrue(run.lines().get(2).startsWith("unknown\t\t"), run.lines().get(2));
    assertTrue(run.lines().get(3).startsWith("unknown\t\t"), run.lines().get(3));
  }

  @Test
  void aNameOfTwoPartsIsShownWithBoth() {
    Run run = run("third-piston\tthird valve\n", "name");
    assertTrue(
        run.lines().get(0).startsWith("too-vague\tthird-piston-assembly,third-piston\t"), run.lines().get(0));
  }

  @Test
  void aPartThatDoesNotExistIsToldOnItsLineAndByTheExitCode() {
    Run run = run("no-such\tbell\nbell\tbell\n", "name");
    assertEquals(1, run.code());
    assertTrue(run.lines().get(0).startsWith("no-such-part\t\t"), run.lines().get(0));
    assertTrue(run.lines().get(1).startsWith("right\tbell\t"), run.lines().get(1));
  }

  @Test
  void theListHasAPartWithItsTermsOnEachLine() {
    Run run = run("", "name", "--list");
    assertEquals(0, run.code());
    assertTrue(run.lines().size() >= 140, run.lines().size() + " lines");
    String crook = run.lines().stream().filter(l -> l.startsWith("third-slide-crook\t")).findFirst().orElseThrow();
    assertEquals("third slide crook", crook.split("\t")[1]);
    assertTrue(List.of(crook.split("\t")[2].split("\\|")).contains("third slide bow"), crook);
    run.lines().forEach(line -> assertEquals(3, line.split("\t", -1).length, line));
  }
}
