package ferrule.device;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.MessageDigest;
import java.security.PrivateKey;
import java.security.PublicKey;
import java.security.Signature;
import java.security.interfaces.ECPublicKey;
import java.security.spec.ECGenParameterSpec;
import java.security.spec.PKCS8EncodedKeySpec;
import java.security.spec.X509EncodedKeySpec;
import java.util.Arrays;
import java.util.Base64;
import java.util.HexFormat;
import javax.crypto.Cipher;
import javax.crypto.KeyAgreement;
import javax.crypto.Mac;
import javax.crypto.spec.GCMParameterSpec;
import javax.crypto.spec.SecretKeySpec;

/** Makes keys for envelopes, opens envelopes, and checks what a browser signed. */
final class Seals {

  private static final String INFO = "ferrule envelope";
  private static final int KEY_BYTES = 32;
  private static final int TAG_BITS = 128;
  private static final int P256_BITS = 256;
  private static final ObjectMapper JSON = new ObjectMapper();

  private Seals() {}

  /** A key pair on P-256 in the forms in which keys are kept. */
  record Keys(String openKey, String sealKey) {}

  /** A new key pair for one device. */
  static Keys newKeys() {
    try {
      KeyPairGenerator generator = KeyPairGenerator.getInstance("EC");
      generator.initialize(new ECGenParameterSpec("secp256r1"));
      KeyPair pair = generator.generateKeyPair();
      return new Keys(text(pair.getPrivate().getEncoded()), text(pair.getPublic().getEncoded()));
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("every Java platform has P-256", e);
    }
  }

  private static String text(byte[] bytes) {
    return Base64.getEncoder().encodeToString(bytes);
  }

  /** Whether a text is a public key on P-256. */
  static boolean isKey(String spki) {
    try {
      publicKey(spki);
      return true;
    } catch (GeneralSecurityException | IllegalArgumentException e) {
      return false;
    }
  }

  private static PublicKey publicKey(String spki) throws GeneralSecurityException {
    PublicKey key =
        KeyFactory.getInstance("EC").generatePublic(new X509EncodedKeySpec(Base64.getDecoder().decode(spki)));
    if (((ECPublicKey) key).getParams().getCurve().getField().getFieldSize() != P256_BITS) {
      throw new GeneralSecurityException("not a key on P-256");
    }
    return key;
  }

  /** The SHA-256 of a text or of a key's bytes, in hex. */
  static String sha256(byte[] bytes) {
    try {
      return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  /**
   * What an envelope holds.
   *
   * @param openKey of its device
   * @throws UnreadableException if it was not sealed to that key, was changed, or is not signed by its device
   */
  static Content open(Envelope envelope, String openKey, String verifyKey) throws UnreadableException {
    try {
      PrivateKey own =
          KeyFactory.getInstance("EC").generatePrivate(new PKCS8EncodedKeySpec(Base64.getDecoder().decode(openKey)));
      KeyAgreement agreement = KeyAgreement.getInstance("ECDH");
      agreement.init(own);
      agreement.doPhase(publicKey(envelope.key()), true);
      Cipher cipher = Cipher.getInstance("AES/GCM/NoPadding");
      byte[] key = hkdf(agreement.generateSecret(), INFO.getBytes(StandardCharsets.UTF_8));
      cipher.init(
          Cipher.DECRYPT_MODE, new SecretKeySpec(key, "AES"),
          new GCMParameterSpec(TAG_BITS, Base64.getDecoder().decode(envelope.iv())));
      cipher.updateAAD(envelope.outside());
      Content content = Content.of(JSON.readTree(cipher.doFinal(envelope.sealed())));
      if (!isSigned(content, verifyKey)) {
        throw new UnreadableException("it is not signed by its device");
      }
      return content;
    } catch (GeneralSecurityException | IOException | IllegalArgumentException e) {
      throw new UnreadableException(e.getMessage());
    }
  }

  private static boolean isSigned(Content content, String verifyKey) throws GeneralSecurityException {
    Signature check = Signature.getInstance("SHA256withECDSAinP1363Format");
    check.initVerify(publicKey(verifyKey));
    check.update(content.statement().getBytes(StandardCharsets.UTF_8));
    return check.verify(Base64.getDecoder().decode(content.signature()));
  }

  /** HKDF with SHA-256, no salt, for one block of output (RFC 5869, 2.2 and 2.3). */
  static byte[] hkdf(byte[] secret, byte[] info) throws GeneralSecurityException {
    byte[] extracted = hmac(new byte[KEY_BYTES], secret);
    byte[] block = Arrays.copyOf(info, info.length + 1);
    block[info.length] = 1;
    return hmac(extracted, block);
  }

  private static byte[] hmac(byte[] key, byte[] text) throws GeneralSecurityException {
    Mac mac = Mac.getInstance("HmacSHA256");
    mac.init(new SecretKeySpec(key, "HmacSHA256"));
    return mac.doFinal(text);
  }

  /** An envelope that cannot be opened. */
  static final class UnreadableException extends Exception {

    private static final long serialVersionUID = 1L;

    UnreadableException(String message) {
      super(message);
    }
  }

  /**
   * The content of an envelope.
   *
   * @param statement what the browser signed, to the letter
   * @param signature of it
   * @param pin that was typed when it was signed; empty where none was asked for
   * @param photos files, in the statement's order
   */
  record Content(String statement, String signature, String pin, java.util.List<byte[]> photos) {

    static Content of(JsonNode json) {
      java.util.List<byte[]> photos = new java.util.ArrayList<>();
      json.path("photos").forEach(p -> photos.add(Base64.getDecoder().decode(p.asText())));
      return new Content(
          json.path("statement").asText(), json.path("signature").asText(), json.path("pin").asText(), photos);
    }
  }
}
