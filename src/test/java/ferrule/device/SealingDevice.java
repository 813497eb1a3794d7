package ferrule.device;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.SecureRandom;
import java.security.Signature;
import java.security.spec.ECGenParameterSpec;
import java.security.spec.X509EncodedKeySpec;
import java.util.Base64;
import java.util.List;
import java.util.UUID;
import javax.crypto.Cipher;
import javax.crypto.KeyAgreement;
import javax.crypto.spec.GCMParameterSpec;
import javax.crypto.spec.SecretKeySpec;

/** A browser's part in sealing, written anew in Java, so that tests bring envelopes without one. */
public final class SealingDevice {

  private static final ObjectMapper JSON = new ObjectMapper();

  private final KeyPair own = pair();
  private UUID id;
  private String sealKey;
  private int seq;

  public SealingDevice(UUID id, String sealKey) {
    this.id = id;
    this.sealKey = sealKey;
  }

  /** One that is known to this store as a person's. */
  public static SealingDevice known(DeviceStore store, UUID person) {
    SealingDevice device = new SealingDevice(null, "");
    Device opened = store.open(person, device.verifyKey());
    device.id = opened.id();
    device.sealKey = opened.sealKey();
    return device;
  }

  private static KeyPair pair() {
    try {
      KeyPairGenerator generator = KeyPairGenerator.getInstance("EC");
      generator.initialize(new ECGenParameterSpec("secp256r1"));
      return generator.generateKeyPair();
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException(e);
    }
  }

  public UUID id() {
    return id;
  }

  String verifyKey() {
    return text(own.getPublic().getEncoded());
  }

  private static String text(byte[] bytes) {
    return Base64.getEncoder().encodeToString(bytes);
  }

  /** Signs and seals what is said, under the next place. */
  public Envelope seal(String kind, String said, String pin, List<byte[]> photos) {
    try {
      UUID envelope = UUID.randomUUID();
      seq++;
      ObjectNode root = (ObjectNode) JSON.readTree(said);
      root.put("id", envelope.toString()).put("device", id.toString()).put("kind", kind).put("seq", seq);
      ObjectNode content = JSON.createObjectNode().put("statement", root.toString()).put("pin", pin);
      Signature sign = Signature.getInstance("SHA256withECDSAinP1363Format");
      sign.initSign(own.getPrivate());
      sign.update(root.toString().getBytes(StandardCharsets.UTF_8));
      content.put("signature", text(sign.sign()));
      photos.forEach(content.putArray("photos")::add);
      KeyPair once = pair();
      KeyAgreement agreement = KeyAgreement.getInstance("ECDH");
      agreement.init(once.getPrivate());
      agreement.doPhase(
          KeyFactory.getInstance("EC").generatePublic(new X509EncodedKeySpec(Base64.getDecoder().decode(sealKey))), true);
      byte[] key = Seals.hkdf(agreement.generateSecret(), "ferrule envelope".getBytes(StandardCharsets.UTF_8));
      byte[] iv = new byte[12];
      new SecureRandom().nextBytes(iv);
      Cipher cipher = Cipher.getInstance("AES/GCM/NoPadding");
      cipher.init(Cipher.ENCRYPT_MODE, new SecretKeySpec(key, "AES"), new GCMParameterSpec(128, iv));
      cipher.updateAAD((id + "|" + envelope + "|" + seq + "|" + kind).getBytes(StandardCharsets.UTF_8));
      byte[] sealed = cipher.doFinal(content.toString().getBytes(StandardCharsets.UTF_8));
      return new Envelope(envelope, id, seq, kind, text(once.getPublic().getEncoded()), text(iv), sealed);
    } catch (GeneralSecurityException | com.fasterxml.jackson.core.JsonProcessingException e) {
      throw new IllegalStateException(e);
    }
  }
}
