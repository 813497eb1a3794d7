package ferrule.app;

import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.store.Database;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Clock;
import java.time.ZoneId;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
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
  @Mixin private DatabaseOptions databaseOptions;
  @Mixin private SiteOption siteOption;
  @Mixin private CurriculumOption curriculumOption;

  @Parameters(index = "0", paramLabel = "NAME", description = "The name by which the person signs in.")
  private String name;

  @Option(names = "--demo", description = "The records of the demo programme.")
  private boolean demo;

  @Option(
      names = "--out", paramLabel = "FILE", defaultValue = "everything.zip",
      description = "The file, which must not be there yet (default: ${DEFAULT-VALUE}).")
  private Path out;

  @Option(
      names = "--zone", paramLabel = "ZONE", defaultValue = "${env:FERRULE_ZONE:-UTC}",
      description = "The school's time zone (FERRULE_ZONE; default: ${DEFAULT-VALUE}).")
  private String zone;

  @Override
  public Integer call() {
    Clock clock = Clock.systemUTC();
    try (Database first = databaseOptions.openExisting(demo ? "demo" : "ferrule")) {
      Site site = siteOption.of(first);
      Installation installation = new Installation(
          Books.read(curriculumOption.open()), new SiteStore(first, clock), site, databaseOptions.signer(site), clock,
          ZoneId.of(zone));
      Person person = Stream.of(Role.values()).flatMap(role -> installation.people().inRole(role).stream())
          .filter(p -> p.signInName().equalsIgnoreCase(name.strip())).findFirst()
          .orElseThrow(() -> new IllegalStateException("nobody signs in as " + name));
      try (OutputStream file = Files.newOutputStream(out, StandardOpenOption.CREATE_NEW)) {
        installation.personFile().write(person, file);
      }
      spec.commandLine().getOut().println(out + ": everything about " + person.fullName());
      return ExitCode.OK;
    } catch (IOException e) {
      spec.commandLine().getErr().println("the file " + out + " could not be written: " + e);
      return ExitCode.SOFTWARE;
    } catch (IllegalStateException | FaultyCurriculum e) {
      spec.commandLine().getErr().println(e.getMessage());
      return ExitCode.USAGE;
    }
  }
}
