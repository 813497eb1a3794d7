package ferrule.ledger;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.Optional;
import java.util.UUID;

/**
 * Something said for good, as canonical JSON, with what every statement has in common: that it is of a kind, such as
 * "sign-off" or "ruling", has an id of its own, and was signed by somebody at a time.
 *
 * <p>{@link #begin} starts the JSON of one; the feature adds what it has to say under keys of its own, and {@link #of}
 * makes the statement. The keys that all share: {@code kind}; {@code id}; {@code signed} with {@code id}, {@code name}
 * and {@code at}; and, where they apply, {@code apprentice} with {@code id} and {@code name}, {@code supersedes}, {@code
 * draft}.
 *
 * @param kind what sort of statement it is
 * @param id names it for ever
 * @param subject the person whose record it belongs to, if it is about one
 * @param supersedes the statement whose place it takes, which at most one does
 * @param draft what it was made from, of which at most one statement is made
 * @param at when it was signed, to the millisecond
 * @param text all of it as canonical JSON
 */
public record Statement(
    String kind,
    UUID id,
    Optional<UUID> subject,
    Optional<UUID> supersedes,
    Optional<UUID> draft,
    Instant at,
    String text) {

  private static final JsonFactory JSON = new JsonFactory();

  /**
   * The start of a statement's JSON.
   *
   * @param by who says it
   * @param name of that person as it stands now
   */
  public static ObjectNode begin(String kind, UUID id, UUID by, String name, Instant at) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("kind", kind).put("id", id.toString());
    json.putObject("signed").put("id", by.toString()).put("name", name).put("at", at.toString());
    return json;
  }

  /**
   * The statement that this JSON makes.
   *
   * @throws IllegalArgumentException if a key that all share is missing or malformed
   */
  public static Statement of(ObjectNode json) {
    return read(CanonicalJson.of(json));
  }

  /**
   * The statement that a text in canonical form makes; whether the form is canonical is not looked at.
   *
   * @throws IllegalArgumentException if it makes none
   */
  public static Statement read(String text) {
    try (JsonParser parser = JSON.createParser(text)) {
      return new Envelope(parser).read(text);
    } catch (IOException | DateTimeParseException | NumberFormatException e) {
      throw new IllegalArgumentException("not a statement: " + e.getMessage(), e);
    }
  }

  /** What all statements share, gathered in one pass that makes no tree. */
  private static final class Envelope {

    private final JsonParser parser;
    private Optional<String> kind = Optional.empty();
    private Optional<UUID> id = Optional.empty();
    private Optional<UUID> subject = Optional.empty();
    private Optional<UUID> supersedes = Optional.empty();
    private Optional<UUID> draft = Optional.empty();
    private Optional<Instant> at = Optional.empty();

    Envelope(JsonParser parser) {
      this.parser = parser;
    }

    Statement read(String text) throws IOException {
      if (parser.nextToken() != JsonToken.START_OBJECT) {
        throw new IllegalArgumentException("not a statement: not a JSON object");
      }
      for (String key = parser.nextFieldName(); key != null; key = parser.nextFieldName()) {
        parser.nextToken();
        take(key);
      }
      if (parser.currentToken() != JsonToken.END_OBJECT || parser.nextToken() != null) {
        throw new IllegalArgumentException("not a statement: something follows the JSON object");
      }
      return new Statement(
          kind.orElseThrow(() -> missing("kind")), id.orElseThrow(() -> missing("id")), subject, supersedes, draft,
          at.orElseThrow(() -> missing("signed.at")), text);
    }

    private static IllegalArgumentException missing(String key) {
      return new IllegalArgumentException("not a statement: it has no '" + key + "'");
    }

    private void take(String key) throws IOException {
      switch (key) {
        case "kind" -> kind = Optional.of(text());
        case "id" -> id = Optional.of(UUID.fromString(text()));
        case "supersedes" -> supersedes = Optional.of(UUID.fromString(text()));
        case "draft" -> draft = Optional.of(UUID.fromString(text()));
        case "apprentice" -> subject = within("id").map(UUID::fromString);
        case "signed" -> at = within("at").map(Instant::parse);
        default -> parser.skipChildren();
      }
    }

    private String text() throws IOException {
      if (parser.currentToken() != JsonToken.VALUE_STRING) {
        throw new IllegalArgumentException("not a statement: '" + parser.currentName() + "' is not a text");
      }
      return parser.getText();
    }

    /** The text under this key of the object that the parser is at. */
    private Optional<String> within(String wanted) throws IOException {
      if (parser.currentToken() != JsonToken.START_OBJECT) {
        throw new IllegalArgumentException("not a statement: '" + parser.currentName() + "' is not an object");
      }
      Optional<String> found = Optional.empty();
      for (String key = parser.nextFieldName(); key != null; key = parser.nextFieldName()) {
        parser.nextToken();
        if (key.equals(wanted)) {
          found = Optional.of(text());
        } else {
          parser.skipChildren();
        }
      }
      return found;
    }
  }
}
