package ferrule.app;

import ferrule.people.Person;
import ferrule.people.Role;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Writes everything that is kept about a person into a zip file. */
@Command(
    name = "person",
    mixinStandardHelpOptions = true,
    description = "Writes everything that is kept about a person into a zip file, as their own account page gives it.",
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {"0:written", "1:the file could not be written", "2:there is no such person, or the records cannot be read"})
final class PersonCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;
  @Mixin private RecordsOptions records;

  @Parameters(index = "0", paramLabel = "NAME", description = "The name by which the person signs in.")
  private String name;

  @Option(
      names = "--out", paramLabel = "FILE", defaultValue = "everything.zip",
      description = "The file, which must not be there yet (default: ${DEFAULT-VALUE}).")
  private Path out;

  @Override
  public Integer call() {
    return records.read(spec, "the file " + out + " could not be written", installation -> {
      Person person = Stream.of(Role.values()).flatMap(role -> installation.people().inRole(role).stream())
          .filter(p -> p.signInName().equalsIgnoreCase(name.strip())).findFirst()
          .orElseThrow(() -> new IllegalStateException("nobody signs in as " + name));
      try (OutputStream file = Files.newOutputStream(out, StandardOpenOption.CREATE_NEW)) {
        installation.personFile().write(person, file);
      }
      spec.commandLine().getOut().println(out + ": everything about " + person.fullName());
    });
  }
}
