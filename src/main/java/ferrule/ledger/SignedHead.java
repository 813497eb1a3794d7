package ferrule.ledger;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Base64;

/**
 * A head of the log that was signed: whoever keeps one can show later what the log said at that time.
 *
 * @param head what it speaks of
 * @param at when it was signed, to the millisecond
 * @param keyId of the key
 * @param signature Ed25519 in base64, over {@link #message}
 */
public record SignedHead(TreeHead head, Instant at, String keyId, String signature) {

  /** The canonical JSON that is signed: {@code at}, {@code kind} "tree-head", {@code root} and {@code size}. */
  public static String message(TreeHead head, Instant at) {
    return CanonicalJson.of(
        JsonNodeFactory.instance.objectNode()
            .put("at", at.toString())
            .put("kind", "tree-head")
            .put("root", head.root())
            .put("size", head.size()));
  }

  /** Whether this key signed it and it still says what it said then. */
  public boolean isSignedWith(HeadKey key) {
    try {
      return key.id().equals(keyId)
          && key.signed(message(head, at).getBytes(StandardCharsets.UTF_8), Base64.getDecoder().decode(signature));
    } catch (IllegalArgumentException e) {
      return false; // the signature is not base64
    }
  }
}
