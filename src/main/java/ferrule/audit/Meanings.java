package ferrule.audit;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;

/**
 * What every route means to the trail, as {@code audit/routes.txt} lists it. A route that is not listed leaves a trace
 * nevertheless, as somebody who saw or changed something, about nobody that it could tell.
 */
final class Meanings {

  private final Map<String, Meaning> meanings = new LinkedHashMap<>();

  private Meanings() {}

  /** The list in the program. */
  static Meanings bundled() {
    try (InputStream list = Meanings.class.getResourceAsStream("/audit/routes.txt")) {
      Meanings all = new Meanings();
      new String(list.readAllBytes(), StandardCharsets.UTF_8).lines()
          .filter(line -> !line.startsWith("#") && !line.isBlank()).forEach(all::add);
      return all;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void add(String line) {
    String[] parts = line.split("\\|", -1);
    if (parts.length < 3 || meanings.containsKey(parts[0].strip())) {
      throw new IllegalArgumentException("a line is route | kind | about whom | words, once a route; found: " + line);
    }
    String words = parts.length < 4 ? "" : parts[3].strip();
    meanings.put(parts[0].strip(), Meaning.parse(parts[1].strip(), parts[2].strip(), words));
  }

  /** What a route means, such as {@code GET /record/{id}}. */
  Meaning of(String route) {
    Meaning known = meanings.get(route);
    boolean reads = route.startsWith("GET ") || route.startsWith("HEAD ");
    return known != null ? known : new Meaning(reads ? Meaning.Kind.SAW : Meaning.Kind.CHANGED, "", "", "", route);
  }

  /** The routes that are listed. */
  Set<String> listed() {
    return meanings.keySet();
  }
}
