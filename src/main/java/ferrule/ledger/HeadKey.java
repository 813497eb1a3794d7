package ferrule.ledger;

import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.MessageDigest;
import java.security.PublicKey;
import java.security.Signature;
import java.security.spec.X509EncodedKeySpec;
import java.util.Base64;
import java.util.HexFormat;

/**
 * The public half of a key that signs heads (Ed25519, RFC 8032): with it anybody can check their signatures.
 *
 * @param id SHA-256 of the key's bytes, in hex
 * @param publicKey SubjectPublicKeyInfo in base64, as other programs take it
 */
public record HeadKey(String id, String publicKey) {

  /**
   * The key of this text.
   *
   * @param publicKey SubjectPublicKeyInfo in base64
   * @throws IllegalArgumentException if it is no Ed25519 key
   */
  public static HeadKey of(String publicKey) {
    try {
      byte[] bytes = Base64.getDecoder().decode(publicKey.strip());
      KeyFactory.getInstance("Ed25519").generatePublic(new X509EncodedKeySpec(bytes));
      byte[] hash = MessageDigest.getInstance("SHA-256").digest(bytes);
      return new HeadKey(HexFormat.of().formatHex(hash), Base64.getEncoder().encodeToString(bytes));
    } catch (GeneralSecurityException e) {
      throw new IllegalArgumentException("not a public key (Ed25519, SubjectPublicKeyInfo in base64): " + publicKey, e);
    }
  }

  /** Whether this key signed these bytes. */
  boolean signed(byte[] message, byte[] signature) {
    try {
      PublicKey key = KeyFactory.getInstance("Ed25519")
          .generatePublic(new X509EncodedKeySpec(Base64.getDecoder().decode(publicKey)));
      Signature check = Signature.getInstance("Ed25519");
      check.initVerify(key);
      check.update(message);
      return check.verify(signature);
    } catch (GeneralSecurityException | IllegalArgumentException e) {
      return false; // a key or signature of the wrong shape signed nothing
    }
  }
}
