package ferrule.device;

import java.nio.charset.StandardCharsets;
import java.util.UUID;

/**
 * Something that a browser sealed so that only this installation can read it, neither whoever holds the tablet next nor
 * the browser itself.
 *
 * <p>The content is encrypted with AES-GCM under a key that ECDH on P-256 gives between a key pair made for this envelope
 * alone and the device's seal key, through HKDF with SHA-256 (RFC 5869). Each envelope is therefore different, and a PIN
 * inside cannot be guessed by sealing guesses and comparing. What stands outside is authenticated with it.
 *
 * @param id made by the browser; the same envelope is received once
 * @param device that it was sealed on
 * @param seq its place on that device, from 1
 * @param kind what is in it, such as "grade"
 * @param key the envelope's own public key, as SubjectPublicKeyInfo in base64
 * @param iv of AES-GCM, 12 bytes, in base64
 * @param sealed the ciphertext with its tag
 */
public record Envelope(UUID id, UUID device, int seq, String kind, String key, String iv, byte[] sealed) {

  /** Checks the place. */
  public Envelope {
    if (seq < 1) {
      throw new IllegalArgumentException("an envelope's place is 1 or more; given: " + seq);
    }
  }

  /** What is authenticated beside the content. */
  byte[] outside() {
    return (device + "|" + id + "|" + seq + "|" + kind).getBytes(StandardCharsets.UTF_8);
  }
}
