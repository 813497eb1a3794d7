package ferrule.app;

import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.rights.ErasureStore;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Writes everything that is kept about a person into a zip file, or erases an apprentice. */
@Command(
    name = "person",
    mixinStandardHelpOptions = true,
    description = {
      "Writes everything that is kept about a person into a zip file, as their own account page gives it.",
      "With --erase: takes away who an apprentice was, and keeps what they did under a pseudonym. There is no way back. "
          + "Backups that were made before still hold the name; after one of them is restored, erase the person again."
    },
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {
      "0:written, or erased", "1:the file could not be written",
      "2:there is no such person, they cannot be erased, or the records cannot be read"})
final class PersonCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;
  @Mixin private RecordsOptions records;

  @Parameters(index = "0", paramLabel = "NAME", description = "The name by which the person signs in, or their id.")
  private String name;

  @Option(
      names = "--out", paramLabel = "FILE", defaultValue = "everything.zip",
      description = "The file, which must not be there yet (default: ${DEFAULT-VALUE}).")
  private Path out;

  @Option(names = "--erase", description = "Erase the person in place of writing the file.")
  private boolean erase;

  @Option(names = "--reason", paramLabel = "TEXT", defaultValue = "", description = "Why they are erased; it enters the log.")
  private String reason;

  @Option(
      names = "--by", paramLabel = "NAME", defaultValue = "",
      description = "The sign-in name of the coordinator who erases; needed if there are several.")
  private String by;

  @Option(names = "--leaves", description = "They leave today, if they have not left yet.")
  private boolean leaves;

  @Override
  public Integer call() {
    return records.read(spec, "the file " + out + " could not be written", installation -> {
      Person person = Stream.of(Role.values()).flatMap(role -> installation.people().inRole(role).stream())
          .filter(p -> p.signInName().equalsIgnoreCase(name.strip()) || p.id().toString().equals(name.strip())).findFirst()
          .orElseThrow(() -> new IllegalStateException("nobody signs in as " + name));
      if (erase) {
        erase(installation, person);
      } else {
        write(installation, person);
      }
    });
  }

  private void write(Installation installation, Person person) throws IOException {
    try (OutputStream file = Files.newOutputStream(out, StandardOpenOption.CREATE_NEW)) {
      installation.personFile().write(person, file);
    }
    spec.commandLine().getOut().println(out + ": everything about " + person.fullName());
  }

  private void erase(Installation installation, Person person) {
    ErasureStore erasures = installation.erasures();
    erasures.refusal(person).ifPresent(why -> {
      throw new IllegalStateException(why);
    });
    if (reason.isBlank() || reason.strip().length() > ErasureStore.LONGEST_REASON) {
      throw new IllegalStateException(
          "give the reason (--reason), in at most " + ErasureStore.LONGEST_REASON + " characters");
    }
    if (person.isPresent() && !leaves) {
      throw new IllegalStateException(person.fullName() + " has not left; say so with --leaves if they leave today");
    }
    Person coordinator = coordinator(installation);
    ErasureStore.Erased erased = erasures.erase(person, coordinator, reason.strip(), LocalDate.now(records.zone()));
    installation.heads().current();
    PrintWriter console = spec.commandLine().getOut();
    console.println(name + " is " + erased.pseudonym() + " from now on. Erasure no. " + erased.number() + " of the log, by "
        + coordinator.fullName() + ", redacted " + erased.redacted() + " signed texts.");
    console.println("Backups from before still hold the name. If one is restored, erase again: person " + person.id()
        + " --erase");
  }

  private Person coordinator(Installation installation) {
    List<Person> coordinators =
        installation.people().inRole(Role.COORDINATOR).stream().filter(Person::isPresent).toList();
    Optional<Person> named = by.isBlank() && coordinators.size() == 1 ? Optional.of(coordinators.get(0))
        : coordinators.stream().filter(p -> p.signInName().equalsIgnoreCase(by.strip())).findFirst();
    return named.orElseThrow(() -> new IllegalStateException(
        "say which coordinator erases them (--by), by the name with which they sign in"));
  }
}
