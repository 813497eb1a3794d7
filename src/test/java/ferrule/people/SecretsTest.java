package ferrule.people;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Base64;
import java.util.HexFormat;
import java.util.List;
import org.bouncycastle.crypto.generators.Argon2BytesGenerator;
import org.bouncycastle.crypto.params.Argon2Parameters;
import org.junit.jupiter.api.Test;

class SecretsTest {

  @Test
  void aHashSaysThatItIsArgon2idWithItsParametersAndHidesThePassword() {
    String hash = Secrets.hash("copper kettle");
    assertTrue(hash.startsWith("$argon2id$v=19$m=19456,t=2,p=1$"), hash);
    assertFalse(hash.contains("copper"));
    assertNotEquals(hash, Secrets.hash("copper kettle"), "each hash has its own salt");
  }

  @Test
  void onlyTheSamePasswordMatches() {
    String hash = Secrets.hash("copper kettle");
    assertTrue(Secrets.matches("copper kettle", hash));
    assertFalse(Secrets.matches("Copper kettle", hash));
    assertFalse(Secrets.matches("", hash));
  }

  private static byte[] argon2id(Argon2Parameters.Builder parameters, byte[] secret) {
    Argon2BytesGenerator generator = new Argon2BytesGenerator();
    generator.init(parameters.withVersion(Argon2Parameters.ARGON2_VERSION_13).build());
    byte[] tag = new byte[32];
    generator.generateBytes(secret, tag);
    return tag;
  }

  private static byte[] filled(int length, int value) {
    byte[] bytes = new byte[length];
    Arrays.fill(bytes, (byte) value);
    return bytes;
  }

  // RFC 9106, 5.3. Our library takes neither the vector's secret nor its data, so that the vector proves a second,
  // independent implementation, and that one proves ours.
  @Test
  void ourHashesAreThoseOfAnImplementationThatKeepsThePublishedVector() {
    Argon2Parameters.Builder vector =
        new Argon2Parameters.Builder(Argon2Parameters.ARGON2_id)
            .withMemoryAsKB(32).withIterations(3).withParallelism(4)
            .withSalt(filled(16, 2)).withSecret(filled(8, 3)).withAdditional(filled(12, 4));
    assertEquals(
        "0d640df58d78766c08c037a34a8b53c9d01ef0452d75b65eb52520e96b01e659",
        HexFormat.of().formatHex(argon2id(vector, filled(32, 1))));

    for (String pin : List.of("2468", "1357", "köln 7")) {
      String[] parts = Secrets.hash(pin).split("\\$");
      Argon2Parameters.Builder same =
          new Argon2Parameters.Builder(Argon2Parameters.ARGON2_id)
              .withMemoryAsKB(19_456).withIterations(2).withParallelism(1)
              .withSalt(Base64.getDecoder().decode(parts[4]));
      String tag =
          Base64.getEncoder().withoutPadding().encodeToString(argon2id(same, pin.getBytes(StandardCharsets.UTF_8)));
      assertEquals(parts[5], tag, pin);
    }
  }

  @Test
  void aTokenIsStoredAsItsDigest() {
    // SHA-256 of "abc": FIPS 180-4, example 1
    assertEquals("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", Secrets.digest("abc"));
    assertEquals(43, Secrets.token().length(), "256 bits in base 64");
    assertNotEquals(Secrets.token(), Secrets.token());
  }
}
