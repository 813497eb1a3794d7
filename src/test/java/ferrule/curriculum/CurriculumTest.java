package ferrule.curriculum;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.jar.JarEntry;
import java.util.jar.JarOutputStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CurriculumTest {

  private static final String SOUND = """
      id: kazoo
      title: Kazoo
      language: en
      variants: []
      facets: []
      senses: []
      concepts:
        - id: body
          term: body
          definition: The tube.
        - id: membrane
          term: membrane
          definition: The buzzing skin.
      """;

  @TempDir
  Path folder;

  private Curriculum with(String path, String text) throws IOException {
    write(path, text);
    return Curriculum.of(folder);
  }

  private void write(String path, String text) throws IOException {
    Path file = folder.resolve(path);
    Files.createDirectories(file.getParent());
    Files.writeString(file, text);
  }

  private static List<String> problemsOf(Curriculum curriculum) {
    Problems problems = new Problems();
    curriculum.read("kazoo/glossary.yaml", "glossary", problems);
    return problems.all().stream().map(Problem::toString).toList();
  }

  @Test
  void aSoundFileIsReadWithItsPositions() throws IOException {
    Problems problems = new Problems();
    YamlNode root = with("kazoo/glossary.yaml", SOUND).read("kazoo/glossary.yaml", "glossary", problems).orElseThrow();
    assertTrue(problems.isEmpty());
    YamlNode membrane = root.list("concepts").get(1);
    assertEquals("The buzzing skin.", membrane.text("definition"));
    assertEquals("kazoo/glossary.yaml:11:5", membrane.at().toString());
    assertEquals("kazoo/glossary.yaml:13:5", membrane.keyAt("definition").toString());
    assertEquals("kazoo/glossary.yaml:13:17", membrane.get("definition").orElseThrow().at().toString());
  }

  @Test
  void anUnknownKeyIsReportedAtTheKeyWithTheKeysThatWereExpected() throws IOException {
    List<String> found = problemsOf(with("kazoo/glossary.yaml", SOUND.replace(
        "    definition: The tube.", "    colour: silver\n    definition: The tube.")));
    assertEquals(1, found.size());
    String expected = "kazoo/glossary.yaml:10:5: unknown key 'colour'; expected one of id, level, term";
    assertTrue(found.get(0).startsWith(expected), found.get(0));
  }

  @Test
  void aValueOfTheWrongSortIsReportedAtTheValue() throws IOException {
    assertEquals(List.of("kazoo/glossary.yaml:10:17: expected text, found a list"),
        problemsOf(with("kazoo/glossary.yaml", SOUND.replace("The tube.", "[the, tube]"))));
    assertEquals(List.of("kazoo/glossary.yaml:9:11: expected text, found a number"),
        problemsOf(with("kazoo/glossary.yaml", SOUND.replace("term: body", "term: 3"))));
  }

  @Test
  void aMissingKeyIsReportedAtTheMappingThatLacksIt() throws IOException {
    assertEquals(List.of("kazoo/glossary.yaml:8:5: key 'definition' is missing here"),
        problemsOf(with("kazoo/glossary.yaml", SOUND.replace("    definition: The tube.\n", ""))));
  }

  @Test
  void aChoiceOutsideTheListNamesTheList() throws IOException {
    assertEquals(
        List.of("kazoo/glossary.yaml:10:12: expected one of kind, assembly, part, region, found 'piece'"),
        problemsOf(with("kazoo/glossary.yaml", SOUND.replace(
            "    definition: The tube.", "    level: piece\n    definition: The tube."))));
  }

  @Test
  void aKeyThatStandsTwiceIsReportedAtItsSecondPlace() throws IOException {
    assertEquals(
        List.of("kazoo/glossary.yaml:10:5: key 'term' stands twice in this mapping, first at line 9; expected it once"),
        problemsOf(with("kazoo/glossary.yaml", SOUND.replace("term: body", "term: body\n    term: corpus"))));
  }

  @Test
  void brokenYamlHidesNoOtherFaultOfTheSameFile() throws IOException {
    String text = SOUND
        .replace("term: body", "term: [body")
        .replace("term: membrane", "term: 7")
        .replace("title: Kazoo\n", "title: Kazoo\ncolour: red\n");
    List<String> found = problemsOf(with("kazoo/glossary.yaml", text));
    assertEquals(3, found.size(), found.toString());
    assertTrue(found.get(0).startsWith("kazoo/glossary.yaml:3:1: unknown key 'colour'"), found.get(0));
    String broken = "kazoo/glossary.yaml:11:15: not YAML: while parsing a flow sequence";
    assertTrue(found.get(1).startsWith(broken), found.get(1));
    assertEquals("kazoo/glossary.yaml:13:11: expected text, found a number", found.get(2));
  }

  @Test
  void brokenYamlHidesNoFaultOfAnotherFile() throws IOException {
    write("comb/glossary.yaml", "id: [comb");
    Curriculum both = with("kazoo/glossary.yaml", SOUND.replace("term: body", "term: 3"));
    Problems problems = new Problems();
    for (String instrument : both.instruments()) {
      both.read(instrument + "/glossary.yaml", "glossary", problems);
    }
    assertEquals(List.of("comb/glossary.yaml", "kazoo/glossary.yaml"),
        problems.all().stream().map(p -> p.at().file()).toList());
  }

  @Test
  void theIdsOfPiecesLeftOutAreKnown() throws IOException {
    Curriculum faulty = with("kazoo/glossary.yaml", SOUND.replace("term: body", "term: \"body\" x"));
    SoundPart part = faulty.readSoundPart("kazoo/glossary.yaml", "glossary", new Problems()).orElseThrow();
    assertEquals(1, part.root().list("concepts").size());
    assertTrue(part.lostIds().contains("body"));
  }

  @Test
  void aPieceWithoutWhatItNeedsIsLeftOutAndTheRestKept() throws IOException {
    Curriculum faulty = with("kazoo/glossary.yaml", SOUND.replace("definition: The tube.", "definition: 3"));
    SoundPart part = faulty.readSoundPart("kazoo/glossary.yaml", "glossary", new Problems()).orElseThrow();
    assertEquals(List.of("membrane"), part.root().list("concepts").stream().map(c -> c.text("id")).toList());
    assertTrue(part.lostIds().contains("body"));
  }

  @Test
  void aMissingAnEmptyAndAGarbledFileAreProblems() throws IOException {
    write("kazoo/other.yaml", "");
    assertEquals(List.of("kazoo/glossary.yaml:1:1: this file is missing"), problemsOf(Curriculum.of(folder)));
    assertEquals(List.of("kazoo/glossary.yaml:1:1: the file is empty; expected a mapping"),
        problemsOf(with("kazoo/glossary.yaml", "# nothing yet\n")));
    Files.write(folder.resolve("kazoo/glossary.yaml"), new byte[] {'i', 'd', ':', ' ', (byte) 0xff});
    assertEquals(List.of("kazoo/glossary.yaml:1:1: the file is not UTF-8 text"), problemsOf(Curriculum.of(folder)));
  }

  @Test
  void aPieceThatContainsItselfIsAProblem() throws IOException {
    List<String> found = problemsOf(with("kazoo/glossary.yaml", "id: kazoo\nconcepts: &all\n  - *all\n"));
    assertTrue(found.stream().anyMatch(p -> p.contains("contains itself")), found.toString());
  }

  @Test
  void accessorsOfTheWrongKindNameThePosition() throws IOException {
    YamlNode root = with("kazoo/glossary.yaml", SOUND)
        .read("kazoo/glossary.yaml", "glossary", new Problems()).orElseThrow();
    IllegalStateException thrown = assertThrows(IllegalStateException.class, () -> root.number("title"));
    assertEquals("kazoo/glossary.yaml:2:8: expected a number, found text", thrown.getMessage());
  }

  @Test
  void instrumentsAreTheFoldersWithAGlossary() throws IOException {
    write("comb/tasks/tuning.yaml", "id: tuning");
    write("kazoo/tasks/skin.yaml", "id: skin");
    write("kazoo/tasks/cleaning.yaml", "id: cleaning");
    Curriculum curriculum = with("kazoo/glossary.yaml", SOUND);
    assertEquals(List.of("kazoo"), curriculum.instruments());
    assertEquals(List.of("kazoo/tasks/cleaning.yaml", "kazoo/tasks/skin.yaml"), curriculum.files("kazoo/tasks"));
    assertEquals(List.of("kazoo/glossary.yaml"), curriculum.files("kazoo"));
    assertEquals("id: skin", curriculum.text("kazoo/tasks/skin.yaml").orElseThrow());
  }

  @Test
  void aFolderThatIsNotThereIsRefused() {
    assertThrows(UncheckedIOException.class, () -> Curriculum.of(folder.resolve("nowhere")));
  }

  @Test
  void theEditionFollowsTheContentAndNothingElse() throws IOException {
    String first = with("kazoo/glossary.yaml", SOUND).edition();
    assertTrue(first.matches("[0-9a-f]{12}"), first);
    assertEquals(first, with("kazoo/glossary.yaml", SOUND.replace("\n", "\r\n")).edition());
    assertNotEquals(first, with("kazoo/glossary.yaml", SOUND + "\n").edition());
    Files.delete(folder.resolve("kazoo/glossary.yaml"));
    assertNotEquals(first, with("comb/glossary.yaml", SOUND).edition());
  }

  @Test
  void theBundledCurriculumIsTheFolderOfTheSources() {
    Curriculum bundled = Curriculum.bundled();
    assertEquals(Curriculum.of(Path.of("curriculum")).edition(), bundled.edition());
  }

  @Test
  void theBundledCurriculumIsFoundInsideAJar() throws Exception {
    Path jar = folder.resolve("a jar with blanks.jar");
    pack(jar, Path.of("target/classes/ferrule/curriculum"), "ferrule/curriculum/");
    try (URLClassLoader loader = onlyOwnClassesOf(jar)) {
      Object bundled = loader.loadClass(Curriculum.class.getName()).getMethod("bundled").invoke(null);
      assertFalse(bundled instanceof Curriculum, "the class must come from the jar");
      Object instruments = bundled.getClass().getMethod("instruments").invoke(bundled);
      assertEquals(List.of("kazoo"), instruments);
    }
  }

  private static void pack(Path jar, Path classes, String prefix) throws IOException {
    try (JarOutputStream out = new JarOutputStream(Files.newOutputStream(jar));
        Stream<Path> found = Files.list(classes)) {
      for (Path file : found.toList()) {
        out.putNextEntry(new JarEntry(prefix + file.getFileName()));
        out.write(Files.readAllBytes(file));
      }
      out.putNextEntry(new JarEntry("curriculum/schema/glossary.schema.json"));
      out.write("{}".getBytes(StandardCharsets.UTF_8));
      out.putNextEntry(new JarEntry("curriculum/kazoo/glossary.yaml"));
      out.write(SOUND.getBytes(StandardCharsets.UTF_8));
    }
  }

  /** Loads from the jar first, so that the class under test sees the jar as its home. */
  private static URLClassLoader onlyOwnClassesOf(Path jar) throws IOException {
    return new URLClassLoader(new URL[] {jar.toUri().toURL()}, ClassLoader.getPlatformClassLoader());
  }
}
