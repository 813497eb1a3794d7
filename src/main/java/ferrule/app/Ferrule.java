package ferrule.app;

import picocli.CommandLine;
import picocli.CommandLine.Command;

/** The one program; its commands do the work. */
@Command(
    name = "ferrule",
    mixinStandardHelpOptions = true,
    versionProvider = Ferrule.Version.class,
    description = "Drills the names of brass instrument parts, grades bench work, and keeps the signed record.",
    synopsisSubcommandLabel = "COMMAND",
    subcommands = {
      ServeCommand.class, CheckCommand.class, NameCommand.class, DrawCommand.class, VerifyCommand.class,
      ExportCommand.class, SiteCommand.class
    })
public final class Ferrule implements Runnable {

  @CommandLine.Spec private CommandLine.Model.CommandSpec spec;

  /** Runs the command that the arguments name; exits with its code. */
  public static void main(String[] args) {
    System.setProperty("org.jooq.no-logo", "true");
    System.setProperty("org.jooq.no-tips", "true");
    System.exit(commandLine().execute(args));
  }

  /** The command line, as {@link #main} runs it. */
  static CommandLine commandLine() {
    return new CommandLine(new Ferrule()).setCaseInsensitiveEnumValuesAllowed(true);
  }

  @Override
  public void run() {
    spec.commandLine().usage(spec.commandLine().getOut());
  }

  /** The version of the jar. */
  static final class Version implements CommandLine.IVersionProvider {
    @Override
    public String[] getVersion() {
      String version = Ferrule.class.getPackage().getImplementationVersion();
      return new String[] {"Ferrule " + (version == null ? "(not packaged)" : version)};
    }
  }
}
