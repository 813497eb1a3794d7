package ferrule.device;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class SealsTest {

  private static final Instant NOON = Instant.parse("2026-11-25T12:00:00Z");

  @Test
  void theKeyIsDerivedAsPublished() throws Exception {
    byte[] secret = new byte[22];
    Arrays.fill(secret, (byte) 0x0b);
    // RFC 5869, A.3: SHA-256, no salt, no info; the first block of its output
    assertArrayEquals(
        HexFormat.of().parseHex("8da4e775a563c18f715f802a063c5a31b8a11f5c5ee1879ec3454e5f3c738d2d"),
        Seals.hkdf(secret, new byte[0]));
  }

  @Test
  void whatIsSealedIsOpenedByItsServerAlone() throws Exception {
    Seals.Keys keys = Seals.newKeys();
    SealingDevice device = new SealingDevice(UUID.randomUUID(), keys.sealKey());
    Envelope envelope = device.seal("grade", "{\"note\":\"ring on the seat ✓\"}", "2468", List.of(new byte[] {1, 2, 3}));
    Seals.Content content = Seals.open(envelope, keys.openKey(), device.verifyKey());
    assertTrue(content.statement().contains("ring on the seat ✓"));
    assertEquals("2468", content.pin());
    assertArrayEquals(new byte[] {1, 2, 3}, content.photos().get(0));
    assertThrows(
        Seals.UnreadableException.class,
        () -> Seals.open(envelope, Seals.newKeys().openKey(), device.verifyKey()));
  }

  @Test
  void whatWasChangedOnTheWayOrSignedByAnotherIsNotOpened() {
    Seals.Keys keys = Seals.newKeys();
    SealingDevice device = new SealingDevice(UUID.randomUUID(), keys.sealKey());
    Envelope e = device.seal("draft", "{}", "", List.of());
    byte[] changed = e.sealed().clone();
    changed[3] ^= 1;
    List<Envelope> others = List.of(
        new Envelope(e.id(), e.device(), e.seq(), e.kind(), e.key(), e.iv(), changed),
        new Envelope(e.id(), e.device(), e.seq(), "grade", e.key(), e.iv(), e.sealed()),
        new Envelope(e.id(), e.device(), e.seq() + 1, e.kind(), e.key(), e.iv(), e.sealed()),
        new Envelope(UUID.randomUUID(), e.device(), e.seq(), e.kind(), e.key(), e.iv(), e.sealed()),
        new Envelope(e.id(), e.device(), e.seq(), e.kind(), "no key", e.iv(), e.sealed()));
    others.forEach(o -> assertThrows(
        Seals.UnreadableException.class, () -> Seals.open(o, keys.openKey(), device.verifyKey())));
    SealingDevice thief = new SealingDevice(device.id(), keys.sealKey());
    assertThrows(Seals.UnreadableException.class, () -> Seals.open(e, keys.openKey(), thief.verifyKey()));
  }

  @Test
  void theSameWordsAreNeverSealedAlikeSoThatNoPinCanBeGuessedByComparing() {
    SealingDevice device = new SealingDevice(UUID.randomUUID(), Seals.newKeys().sealKey());
    Envelope one = device.seal("grade", "{}", "2468", List.of());
    Envelope two = device.seal("grade", "{}", "2468", List.of());
    assertFalse(Arrays.equals(one.sealed(), two.sealed()));
    assertFalse(one.key().equals(two.key()));
  }

  @Test
  void onlyAKeyOnTheRightCurveIsOne() {
    assertTrue(Seals.isKey(Seals.newKeys().sealKey()));
    assertFalse(Seals.isKey(""));
    assertFalse(Seals.isKey("AAAA"));
  }

  @Test
  void aTimeIsBelievedOnlyBetweenTheProofOfPresenceAndTheReceipt() {
    Device device = new Device(
        UUID.randomUUID(), UUID.randomUUID(), "", "", NOON, Optional.of(NOON), Optional.of(NOON.plus(Device.SIGNS_FOR)),
        Optional.empty());
    Instant received = NOON.plus(Duration.ofDays(2));
    assertTrue(device.refusal(NOON.plusSeconds(60), received).isEmpty(), "late receipt is no fault");
    assertTrue(device.refusal(NOON.plus(Duration.ofHours(9)), received).orElseThrow().contains("after the time"));
    assertTrue(device.refusal(NOON.minus(Duration.ofHours(1)), received).orElseThrow().contains("clock"));
    assertTrue(device.refusal(NOON.plusSeconds(600), NOON.plusSeconds(60)).orElseThrow().contains("clock"));
  }
}
