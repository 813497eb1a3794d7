package ferrule.ledger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Instant;
import java.util.Base64;
import java.util.HexFormat;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class HeadSignerTest {

  private static final Instant AT = Instant.parse("2026-11-25T18:30:00.250Z");
  private static final TreeHead HEAD = new TreeHead(8, "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328");

  @TempDir Path folder;

  // RFC 8032, 7.1, test 2: public key, message of the one byte 72, signature; the key wrapped as RFC 8410, 4 says
  @Test
  void aPublishedSignatureFitsItsKeyAndNoOtherMessage() {
    HexFormat hex = HexFormat.of();
    byte[] wrapped = hex.parseHex(
        "302a300506032b6570032100" + "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c");
    HeadKey key = HeadKey.of(Base64.getEncoder().encodeToString(wrapped));
    byte[] signature = hex.parseHex(
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"
            + "085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00");
    assertTrue(key.signed(new byte[] {0x72}, signature));
    assertFalse(key.signed(new byte[] {0x73}, signature));
  }

  @Test
  void theKeyIsMadeOnceAndKeptForItsOwnerAlone() throws IOException {
    Path file = folder.resolve("data/head-key");
    HeadSigner first = HeadSigner.kept(file);
    assertEquals(first.key(), HeadSigner.kept(file).key());
    assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
    assertTrue(HeadSigner.kept(file).sign(HEAD, AT).isSignedWith(first.key()));
  }

  @Test
  void aFileThatHoldsNoKeyIsRefused() throws IOException {
    Path file = folder.resolve("head-key");
    HeadSigner.kept(file);
    String[] lines = Files.readString(file).split("\n");
    Path other = folder.resolve("other");
    HeadSigner.kept(other);
    Files.writeString(file, lines[0] + "\n" + Files.readString(other).split("\n")[1] + "\n");
    assertThrows(IOException.class, () -> HeadSigner.kept(file), "two halves of different keys");
    Files.writeString(file, "no key\n");
    assertThrows(IOException.class, () -> HeadSigner.kept(file));
  }

  @Test
  void aSignedHeadSaysExactlyWhatWasSigned() {
    HeadSigner signer = HeadSigner.passing();
    SignedHead signed = signer.sign(HEAD, AT);
    assertEquals(
        "{\"at\":\"2026-11-25T18:30:00.250Z\",\"kind\":\"tree-head\",\"root\":\"" + HEAD.root() + "\",\"size\":8}",
        SignedHead.message(HEAD, AT));
    assertTrue(signed.isSignedWith(signer.key()));
    assertFalse(signed.isSignedWith(HeadSigner.passing().key()));
    TreeHead other = new TreeHead(9, HEAD.root());
    assertFalse(new SignedHead(other, AT, signed.keyId(), signed.signature()).isSignedWith(signer.key()));
    assertFalse(new SignedHead(HEAD, AT.plusMillis(1), signed.keyId(), signed.signature()).isSignedWith(signer.key()));
    assertFalse(new SignedHead(HEAD, AT, signed.keyId(), "no base64!").isSignedWith(signer.key()));
  }
}
