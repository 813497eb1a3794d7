package ferrule.app;

import ferrule.naming.DamerauLevenshtein;
import java.io.IOException;
import java.lang.reflect.AnnotatedElement;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import picocli.CommandLine;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Option;

/**
 * Where an option has its value from when it is not on the command line: the environment, or else a file of lines like
 * {@code FERRULE_PORT=8710}, which {@code --config} or FERRULE_CONFIG names. An option is such a setting if its default
 * is written {@code ${env:FERRULE_...}}; its name is the same in the environment and in the file.
 */
final class Settings implements CommandLine.IDefaultValueProvider {

  private static final String FILE = "FERRULE_CONFIG";
  private static final Pattern NAMED = Pattern.compile("\\$\\{env:(FERRULE_[A-Z0-9_]+)(?::-([^}]*))?}");
  private static final int NEAR = 3;

  /** A value and where it was found, for people to read. */
  private record Given(String value, String where) {}

  private final Map<String, Given> given;

  private Settings(Map<String, Given> given) {
    this.given = Map.copyOf(given);
  }

  /**
   * The settings for these commands and arguments.
   *
   * @throws IllegalArgumentException if the file cannot be read or says what nobody understands; the message is a
   *     sentence for whoever wrote it
   */
  static Settings of(CommandLine commands, Map<String, String> environment, List<String> arguments) {
    TreeSet<String> known = names(commands);
    Map<String, Given> given = new HashMap<>();
    file(environment, arguments).ifPresent(file -> given.putAll(read(file, known)));
    environment.forEach((name, value) -> {
      if (known.contains(name) && !value.isBlank()) {
        given.put(name, new Given(value.strip(), name));
      }
    });
    return new Settings(given);
  }

  /** A sentence for each variable that looks like a setting and is none. */
  static List<String> strangers(CommandLine commands, Map<String, String> environment) {
    TreeSet<String> known = names(commands);
    // of the tests and of container platforms
    Pattern others = Pattern.compile("FERRULE_(CHROMIUM|SERVICE_.*|PORT_.*)");
    return environment.keySet().stream()
        .filter(name -> name.startsWith("FERRULE_") && !known.contains(name) && !others.matcher(name).matches())
        .sorted()
        .map(name -> name + " in the environment is no setting of Ferrule" + hint(name, known))
        .toList();
  }

  private static TreeSet<String> names(CommandLine commands) {
    TreeSet<String> names = new TreeSet<>(List.of(FILE));
    for (CommandLine command : commands.getSubcommands().values()) {
      command.getCommandSpec().options().forEach(option -> setting(option).ifPresent(m -> names.add(m.group(1))));
      names.addAll(names(command));
    }
    return names;
  }

  private static Optional<Matcher> setting(ArgSpec argument) {
    if (argument instanceof OptionSpec option && option.userObject() instanceof AnnotatedElement element
        && element.isAnnotationPresent(Option.class)) {
      Matcher named = NAMED.matcher(element.getAnnotation(Option.class).defaultValue());
      return named.find() ? Optional.of(named) : Optional.empty();
    }
    return Optional.empty();
  }

  private static Optional<Path> file(Map<String, String> environment, List<String> arguments) {
    for (int i = 0; i < arguments.size(); i++) {
      String argument = arguments.get(i);
      if (argument.startsWith("--config=")) {
        return Optional.of(Path.of(argument.substring("--config=".length())));
      }
      if (argument.equals("--config") && i + 1 < arguments.size()) {
        return Optional.of(Path.of(arguments.get(i + 1)));
      }
    }
    return Optional.ofNullable(environment.get(FILE)).filter(name -> !name.isBlank()).map(Path::of);
  }

  private static Map<String, Given> read(Path file, TreeSet<String> known) {
    List<String> lines;
    try {
      lines = Files.readAllLines(file, StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new IllegalArgumentException("the file of settings " + file + " cannot be read: " + e.getMessage(), e);
    }
    Map<String, Given> read = new TreeMap<>();
    for (int i = 0; i < lines.size(); i++) {
      String line = lines.get(i).strip();
      if (!line.isEmpty() && !line.startsWith("#")) {
        take(line, file + ", line " + (i + 1), known, read);
      }
    }
    return read;
  }

  private static void take(String line, String where, TreeSet<String> known, Map<String, Given> read) {
    int equals = line.indexOf('=');
    if (equals < 1) {
      throw new IllegalArgumentException(where + ": expected a line like FERRULE_PORT=8710; found: " + line);
    }
    String name = line.substring(0, equals).strip();
    if (!known.contains(name) || name.equals(FILE)) {
      throw new IllegalArgumentException(where + ": " + name + " is no setting of Ferrule" + hint(name, known));
    }
    if (read.containsKey(name)) {
      throw new IllegalArgumentException(where + ": " + name + " was set before, in " + read.get(name).where());
    }
    String value = unquoted(line.substring(equals + 1).strip());
    if (!value.isEmpty()) {
      read.put(name, new Given(value, name + " in " + where));
    }
  }

  private static String unquoted(String value) {
    boolean quoted = value.length() >= 2 && value.startsWith("\"") && value.endsWith("\"");
    return quoted ? value.substring(1, value.length() - 1) : value;
  }

  private static String hint(String name, TreeSet<String> known) {
    return known.stream()
        .filter(k -> DamerauLevenshtein.within(name, k, NEAR) <= NEAR)
        .min((a, b) -> DamerauLevenshtein.within(name, a, NEAR) - DamerauLevenshtein.within(name, b, NEAR))
        .map(near -> "; did you mean " + near + "?")
        .orElse("; “serve --help” names them");
  }

  @Override
  public String defaultValue(ArgSpec argument) {
    return setting(argument)
        .map(named -> Optional.ofNullable(given.get(named.group(1))).map(Given::value).orElse(named.group(2)))
        .orElse(null);
  }

  /** Where this option's value was found, if it was not on the command line. */
  Optional<String> where(ArgSpec argument) {
    return setting(argument).flatMap(named -> Optional.ofNullable(given.get(named.group(1)))).map(Given::where);
  }
}
