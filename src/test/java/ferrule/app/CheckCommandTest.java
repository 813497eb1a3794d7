package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

class CheckCommandTest {

  /** A small instrument with ten faults, one of each sort, in one file; the comments number them. */
  private static final String TEN_FAULTS = """
      id: kazoo
      title: Kazoo
      language: en
      variants:
        - {id: tin, axis: metal, title: Tin kazoo}
        - {id: steel, axis: metal, title: Steel kazoo}
      facets: []
      senses: []
      concepts:
        - id: body
          term: body
          colour: silver                       # 1 unknown key
          definition: The tube that the player hums into.
        - id: mouth-hole
          term: mouth hole
          definition: The flattened end that goes between the lips.
          part-of: body
        - id: mouth-hole                       # 2 the id stands twice
          term: flattened end
          definition: The end for the lips.
        - id: turret
          term: turret
          definition: The cup on the body in which the membrane lies.
          part-of: boddy                       # 3 leads nowhere
        - id: cap
          term: cap
          definition: The screwed ring over the turret.
          part-of: cap-thread                  # 4 a circle
        - id: cap-thread
          term: cap thread
          definition: The thread of the cap.
          part-of: cap
        - id: membrane
          term: membrane
          definition: The skin that buzzes.
          part-of: turret
        - id: spare-membrane
          term: Membrane                       # 5 the preferred term of another
          definition: The skin kept in the case.
        - id: seam
          term: seam
          alternative: [cap]                   # 6 another's preferred term, without a sense
          definition: The soldered joint along the body.
        - id: lacquer
          term: lacquer
          definition: The clear coat.
          variants: [tin, brass]               # 7 no such variant
        - id: air-hole                         # 8 no definition
          term: air hole
        - id: engraving
          term: [engraving]                    # 9 a list where text belongs
          definition: The cut ornament.
        - id: sticker
          term: sticker
          definition: "The label" on it.       # 10 not YAML
      """;

  @TempDir
  Path folder;

  private final StringWriter out = new StringWriter();

  private int check(String... arguments) {
    CommandLine commandLine = Ferrule.commandLine();
    commandLine.setOut(new PrintWriter(out, true));
    commandLine.setErr(new PrintWriter(out, true));
    String[] all = new String[arguments.length + 1];
    all[0] = "check";
    System.arraycopy(arguments, 0, all, 1, arguments.length);
    return commandLine.execute(all);
  }

  private List<String> lines() {
    return out.toString().lines().toList();
  }

  private void write(String path, String text) throws IOException {
    Path file = folder.resolve(path);
    Files.createDirectories(file.getParent());
    Files.writeString(file, text);
  }

  @Test
  void tenFaultsOfTenSortsAreAllReportedInOneRun() throws IOException {
    write("kazoo/glossary.yaml", TEN_FAULTS);
    assertEquals(1, check("--curriculum", folder.toString()));
    List<String> found = lines();
    List<String> starts = List.of(
        "kazoo/glossary.yaml:12:5: unknown key 'colour'; expected one of id, level,",
        "kazoo/glossary.yaml:18:9: id 'mouth-hole' stands twice among the concepts, first at line 14",
        "kazoo/glossary.yaml:24:14: part-of leads to 'boddy', which is not defined",
        "kazoo/glossary.yaml:28:14: part-of goes in a circle: cap > cap-thread > cap",
        "kazoo/glossary.yaml:38:11: 'Membrane' is already the preferred term of membrane at line 34",
        "kazoo/glossary.yaml:42:19: 'cap' is also the preferred term of cap at line 26; expected a sense",
        "kazoo/glossary.yaml:47:21: unknown variant 'brass'; expected one of tin, steel",
        "kazoo/glossary.yaml:48:5: key 'definition' is missing here",
        "kazoo/glossary.yaml:51:11: expected text, found a list",
        "kazoo/glossary.yaml:55:29: not YAML: while parsing a block mapping");
    assertEquals(starts.size() + 1, found.size(), out.toString());
    for (int i = 0; i < starts.size(); i++) {
      assertTrue(found.get(i).startsWith(starts.get(i)), "expected " + starts.get(i) + ", got " + found.get(i));
    }
    assertEquals("10 problems", found.get(10));
  }

  @Test
  void theBundledCurriculumHasNoFault() {
    assertEquals(0, check(), out.toString());
    assertTrue(lines().get(lines().size() - 1).matches("no problem found; edition [0-9a-f]{12}"), out.toString());
  }

  @Test
  void aFaultyGlossaryHidesNoFaultOfTheOtherFiles() throws IOException {
    write("kazoo/glossary.yaml", "id: [kazoo\n");
    write("kazoo/conventions.yaml", "casings: none\n");
    assertEquals(1, check("--curriculum", folder.toString()));
    assertTrue(out.toString().contains("kazoo/conventions.yaml:1:10: expected a list, found text"), out.toString());
    assertTrue(out.toString().contains("kazoo/glossary.yaml:2:1: not YAML"), out.toString());
  }

  @Test
  void everyFileOfTheBundledCurriculumIsHeldToItsForm() throws IOException {
    Curriculum bundled = Curriculum.bundled();
    for (String file : bundled.files()) {
      write(file, bundled.text(file).orElseThrow() + "colour: red\n");
    }
    assertEquals(1, check("--curriculum", folder.toString()));
    for (String file : bundled.files()) {
      assertEquals(1, lines().stream().filter(l -> l.startsWith(file) && l.contains("unknown key 'colour'")).count(),
          file + " in\n" + out);
    }
  }

  @Test
  void aFileInThePlaceOfNoKindIsAFault() throws IOException {
    write("kazoo/glosary.yaml", "id: kazoo\n");
    write("kazoo/glossary.yaml", "id: kazoo\n");
    assertEquals(1, check("--curriculum", folder.toString()));
    assertTrue(out.toString().contains("kazoo/glosary.yaml:1:1: no kind of file has this name"), out.toString());
  }

  @Test
  void aFolderWithoutAnInstrumentIsAFault() {
    assertEquals(1, check("--curriculum", folder.toString()));
    assertEquals(List.of("no instrument found: expected a folder with a glossary.yaml"), lines());
  }

  @Test
  void aFolderThatIsNotThereIsSaidPlainly() {
    assertEquals(2, check("--curriculum", folder.resolve("nowhere").toString()));
    assertEquals(1, lines().size(), out.toString());
    assertTrue(lines().get(0).contains("nowhere"), out.toString());
  }

  @Test
  void helpNamesTheExitCodes() {
    assertEquals(0, check("--help"));
    assertTrue(out.toString().contains("at least one fault"), out.toString());
  }
}
