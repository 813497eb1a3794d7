package ferrule.app;

import ferrule.people.PeopleStore;
import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.store.Database;
import ferrule.web.WebServer;
import java.io.PrintWriter;
import java.time.Clock;
import java.util.concurrent.Callable;
import java.util.function.ToIntFunction;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Lists, adds and renames the programmes ("sites") that one installation serves. */
@Command(
    name = "site",
    mixinStandardHelpOptions = true,
    description = {
      "Lists, adds and renames the programmes (“sites”) that one installation serves. Each has its own people, roles, "
          + "work and signed log, and nothing of one is seen at another. A browser goes into a site by an address that "
          + "starts with /at/NAME."
    },
    synopsisSubcommandLabel = "COMMAND",
    subcommands = {SiteCommand.ListSites.class, SiteCommand.Add.class, SiteCommand.Rename.class})
final class SiteCommand implements Runnable {

  @Spec private CommandSpec spec;

  @Override
  public void run() {
    spec.commandLine().usage(spec.commandLine().getOut());
  }

  /** What the three commands have in common: they open the database and end with a sentence. */
  private abstract static class OnSites implements Callable<Integer> {

    @Spec CommandSpec spec;
    @Mixin DatabaseOptions databaseOptions;

    final int on(ToIntFunction<Database> work) {
      try (Database database = databaseOptions.openExisting("ferrule")) {
        return work.applyAsInt(database);
      } catch (IllegalStateException | IllegalArgumentException e) {
        spec.commandLine().getErr().println(e.getMessage());
        return ExitCode.USAGE;
      }
    }

    final PrintWriter out() {
      return spec.commandLine().getOut();
    }

    final int refuse(String sentence) {
      spec.commandLine().getErr().println(sentence);
      return ExitCode.SOFTWARE;
    }
  }

  /** Prints each site on a line: its name, a tab, its title. */
  @Command(
      name = "list",
      mixinStandardHelpOptions = true,
      description = "Prints each site on a line: its name, a tab, its title.")
  static final class ListSites extends OnSites {

    @Override
    public Integer call() {
      return on(database -> {
        new SiteStore(database, Clock.systemUTC()).all().forEach(s -> out().println(s.name() + "\t" + s.title()));
        return ExitCode.OK;
      });
    }
  }

  /** Adds a site and prints the link that makes its first coordinator's account. */
  @Command(
      name = "add",
      mixinStandardHelpOptions = true,
      description = {
        "Adds a site and prints a link, to be put after the address of your Ferrule, that makes the account of its first "
            + "coordinator. Running nodes serve the site at once. The embedded database is open to one program at a "
            + "time: stop the server first; with PostgreSQL it goes on."
      },
      exitCodeListHeading = "%nExit codes:%n",
      exitCodeList = {"0:added", "1:there is a site of that name", "2:the name or title cannot be, or no database"})
  static final class Add extends OnSites {

    @Parameters(index = "0", paramLabel = "NAME", description = "As it stands in addresses, such as night-bench.")
    private String name;

    @Parameters(index = "1", paramLabel = "TITLE", description = "As people read it, such as “Night bench”.")
    private String title;

    @Override
    public Integer call() {
      return on(database -> {
        Site site = new Site(name, title.strip());
        SiteStore sites = new SiteStore(database, Clock.systemUTC());
        if (!sites.add(site)) {
          return refuse("there is a site " + name + " already; “site list” shows all");
        }
        PeopleStore people = new PeopleStore(sites.open(site), Clock.systemUTC());
        out().println("The site " + site.called() + " is added. This link makes its first coordinator's account; it works "
            + "once, for " + ServeCommand.FIRST_LINK.toHours() + " hours:");
        out().println(WebServer.firstCoordinatorPath(site, people, ServeCommand.FIRST_LINK));
        return ExitCode.OK;
      });
    }
  }

  /** Gives a site another title. */
  @Command(
      name = "rename",
      mixinStandardHelpOptions = true,
      description = "Gives a site another title. Its name, which stands in addresses, never changes.",
      exitCodeListHeading = "%nExit codes:%n",
      exitCodeList = {"0:renamed", "1:there is no such site", "2:the title cannot be, or no database"})
  static final class Rename extends OnSites {

    @Parameters(index = "0", paramLabel = "NAME", description = "As “site list” names it.")
    private String name;

    @Parameters(index = "1", paramLabel = "TITLE", description = "As people shall read it.")
    private String title;

    @Override
    public Integer call() {
      return on(database -> {
        SiteStore sites = new SiteStore(database, Clock.systemUTC());
        if (sites.site(name).isEmpty()) {
          return refuse("there is no site " + name + "; “site list” shows all");
        }
        sites.rename(new Site(name, title.strip()));
        out().println("The site " + name + " is called " + title.strip() + " from now on.");
        return ExitCode.OK;
      });
    }
  }
}
