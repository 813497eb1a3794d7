package ferrule.app;

import java.util.List;
import java.util.Map;
import java.util.Optional;
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
      ServeCommand.class, BackupCommand.class, RestoreCommand.class, MoveCommand.class, HealthCommand.class,
      CheckCommand.class, NameCommand.class, DrawCommand.class, VerifyCommand.class, ExportCommand.class, PersonCommand.class, BundleCommand.class,
      SiteCommand.class
    })
public final class Ferrule implements Runnable {

  @CommandLine.Spec private CommandLine.Model.CommandSpec spec;

  /** Runs the command that the arguments name; exits with its code. */
  public static void main(String[] args) {
    System.setProperty("org.jooq.no-logo", "true");
    System.setProperty("org.jooq.no-tips", "true");
    System.exit(run(System.getenv(), args));
  }

  /** Runs the command that the arguments name, with the settings of this environment; returns its exit code. */
  static int run(Map<String, String> environment, String... args) {
    CommandLine line = commandLine();
    return run(line, environment, args);
  }

  /** The same on a command line that the caller has set up. */
  static int run(CommandLine line, Map<String, String> environment, String... args) {
    try {
      Settings settings = Settings.of(line, environment, List.of(args));
      line.setDefaultValueProvider(settings);
      line.setParameterExceptionHandler((e, all) -> refuse(settings, e));
    } catch (IllegalArgumentException e) {
      line.getErr().println(e.getMessage());
      return CommandLine.ExitCode.USAGE;
    }
    Settings.strangers(line, environment).forEach(line.getErr()::println);
    return line.execute(args);
  }

  /** One sentence for one fault; where it stands, if it was not on the command line. */
  private static int refuse(Settings settings, CommandLine.ParameterException e) {
    CommandLine command = e.getCommandLine();
    String sentence = e.getMessage().replace("is not an int", "is no whole number");
    Optional<String> where = Optional.ofNullable(e.getArgSpec())
        .filter(argument -> sentence.startsWith("Invalid value for option"))
        .flatMap(settings::where);
    command.getErr().println(where.map(w -> w + ": " + sentence.replaceFirst("^[^:]*: ", "")).orElse(sentence));
    command.getErr().println("“" + command.getCommandSpec().qualifiedName() + " --help” says what is expected.");
    return CommandLine.ExitCode.USAGE;
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
