package ferrule.people;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

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

  @Test
  void aTokenIsStoredAsItsDigest() {
    // SHA-256 of "abc": FIPS 180-4, example 1
    assertEquals("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", Secrets.digest("abc"));
    assertEquals(43, Secrets.token().length(), "256 bits in base 64");
    assertNotEquals(Secrets.token(), Secrets.token());
  }
}
