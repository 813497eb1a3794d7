package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import picocli.CommandLine.Model.CommandSpec;

class DatabaseOptionsTest {

  @TempDir Path folder;

  private static PeopleStore people(Database database) {
    return new PeopleStore(database, Clock.systemUTC());
  }

  private static void add(Database database, String name) {
    people(database)
        .add(
            new Person(UUID.randomUUID(), name, name, Role.COORDINATOR, Optional.empty()),
            Optional.of("not a password of anybody"), Optional.empty());
  }

  private static List<String> names(Database database) {
    return people(database).inRole(Role.COORDINATOR).stream().map(Person::fullName).toList();
  }

  private Database open(Consumer<Database> fill) {
    DatabaseOptions options = new DatabaseOptions();
    CommandSpec spec = CommandSpec.create().addMixin("database", CommandSpec.forAnnotatedObject(options));
    new CommandLine(spec).parseArgs("--data", folder.toString());
    return options.openFilled("demo", database -> people(database).isEmpty(), fill);
  }

  @Test
  void aFillingThatIsCutShortIsBegunAnewAtTheNextStart() {
    assertThrows(
        IllegalStateException.class,
        () ->
            open(
                database -> {
                  add(database, "first");
                  throw new IllegalStateException("cut short");
                }));
    try (Database database = open(filling -> add(filling, "second"))) {
      assertEquals(List.of("second"), names(database));
    }
  }

  @Test
  void aFilledDatabaseIsLeftAsItIs() {
    open(database -> add(database, "first")).close();
    try (Database database = open(filling -> add(filling, "second"))) {
      assertEquals(List.of("first"), names(database));
    }
  }

  @Test
  void aSecondStartDoesNotTakeAwayWhatTheFirstIsFilling() {
    try (Database first = open(filling -> {
      add(filling, "first");
      UncheckedIOException refused =
          assertThrows(UncheckedIOException.class, () -> open(again -> add(again, "second")).close());
      assertTrue(refused.getMessage().contains("another start is filling"), refused.getMessage());
    })) {
      assertEquals(List.of("first"), names(first));
    }
    try (Stream<Path> left = Files.list(folder)) {
      // a .trace.db tells of what H2 itself met, such as compacting while it closed
      List<String> others = left.map(f -> f.getFileName().toString()).filter(f -> !f.endsWith(".trace.db")).toList();
      assertEquals(List.of("demo.mv.db"), others);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Test
  void aFolderThatIsNoneIsNamed() throws IOException {
    folder = Files.createFile(folder.resolve("a-file"));
    String told = assertThrows(RuntimeException.class, () -> open(filling -> add(filling, "nobody"))).getMessage();
    assertTrue(told.contains("is " + folder + " a folder that may be written to?"), told);
  }
}
