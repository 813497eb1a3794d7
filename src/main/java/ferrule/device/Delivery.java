package ferrule.device;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.UUID;

/**
 * What an envelope brought, opened and checked to come from its device.
 *
 * @param id of the envelope
 * @param device where it was made
 * @param kind what it is, such as "grade"
 * @param said what the browser signed, read
 * @param statement the same, to the letter
 * @param pin that was typed when it was signed; empty where none was asked for. It is kept nowhere.
 * @param photos files that came with it
 * @param receivedAt when it came
 */
public record Delivery(
    UUID id,
    Device device,
    String kind,
    JsonNode said,
    String statement,
    String pin,
    List<byte[]> photos,
    Instant receivedAt) {

  /** The fingerprint of what the browser signed: the SHA-256 of its UTF-8, in hex. */
  public String fingerprint() {
    return fingerprint(statement);
  }

  /** The fingerprint of a statement. */
  public static String fingerprint(String statement) {
    return Seals.sha256(statement.getBytes(StandardCharsets.UTF_8));
  }

  @Override
  public String toString() {
    return kind + " " + id; // never the PIN
  }
}
