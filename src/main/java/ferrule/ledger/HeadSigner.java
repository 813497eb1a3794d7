package ferrule.ledger;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.PrivateKey;
import java.security.Signature;
import java.security.spec.PKCS8EncodedKeySpec;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Base64;
import java.util.SortedMap;

/**
 * Signs heads of the log with an Ed25519 key that is kept in a file, so that it is never in the database whose log it
 * vouches for. The file holds two lines in base64: the private key (PKCS #8) and the public one (SubjectPublicKeyInfo).
 */
public final class HeadSigner {

  private final PrivateKey privateKey;
  private final HeadKey key;

  private HeadSigner(PrivateKey privateKey, HeadKey key) {
    this.privateKey = privateKey;
    this.key = key;
  }

  /**
   * The signer whose key is in this file; where there is no file, a new key is made and kept there, readable by its
   * owner alone.
   *
   * @throws IOException if the file cannot be read or written, or holds no key
   */
  public static HeadSigner kept(Path file) throws IOException {
    if (!Files.exists(file)) {
      write(file, newKeys());
    }
    String[] lines = Files.readString(file, StandardCharsets.US_ASCII).strip().split("\\R");
    if (lines.length != 2) {
      throw new IOException(file + " holds no signing key: expected two lines, found " + lines.length);
    }
    try {
      byte[] bytes = Base64.getDecoder().decode(lines[0].strip());
      PrivateKey privateKey = KeyFactory.getInstance("Ed25519").generatePrivate(new PKCS8EncodedKeySpec(bytes));
      HeadSigner signer = new HeadSigner(privateKey, HeadKey.of(lines[1]));
      TreeHead empty = new MerkleTree().head();
      if (!signer.sign(empty, Instant.EPOCH).isSignedWith(signer.key)) {
        throw new IOException(file + " holds no signing key: its two lines do not belong together");
      }
      return signer;
    } catch (GeneralSecurityException | IllegalArgumentException e) {
      throw new IOException(file + " holds no signing key: " + e.getMessage(), e);
    }
  }

  /** A signer with a new key that is kept nowhere. */
  public static HeadSigner passing() {
    KeyPair keys = newKeys();
    return new HeadSigner(keys.getPrivate(), HeadKey.of(base64(keys.getPublic().getEncoded())));
  }

  private static KeyPair newKeys() {
    try {
      return KeyPairGenerator.getInstance("Ed25519").generateKeyPair();
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("every Java platform since 15 has Ed25519", e);
    }
  }

  private static void write(Path file, KeyPair keys) throws IOException {
    Files.createDirectories(file.toAbsolutePath().getParent());
    String text =
        base64(keys.getPrivate().getEncoded()) + "\n" + base64(keys.getPublic().getEncoded()) + "\n";
    try {
      Files.createFile(file, ownerOnly());
      Files.writeString(file, text, StandardCharsets.US_ASCII, StandardOpenOption.WRITE);
    } catch (FileAlreadyExistsException e) {
      // another node made it at the same moment: that one holds
    }
  }

  private static FileAttribute<?>[] ownerOnly() {
    boolean posix = FileSystems.getDefault().supportedFileAttributeViews().contains("posix");
    return posix
        ? new FileAttribute<?>[] {PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------"))}
        : new FileAttribute<?>[0];
  }

  private static String base64(byte[] bytes) {
    return Base64.getEncoder().encodeToString(bytes);
  }

  /** The public half. */
  public HeadKey key() {
    return key;
  }

  /** Signs a head, as of this time. */
  public SignedHead sign(TreeHead head, Instant at) {
    Instant time = at.truncatedTo(ChronoUnit.MILLIS);
    return new SignedHead(head, time, key.id(), signature(SignedHead.message(head, time)));
  }

  /** Signs that these files were given out together, as of this time; each by its name with its SHA-256. */
  public FileSeal seal(TreeHead head, Instant at, SortedMap<String, String> files) {
    Instant time = at.truncatedTo(ChronoUnit.MILLIS);
    return new FileSeal(head, time, files, key, signature(FileSeal.message(head, time, files)));
  }

  private String signature(String message) {
    try {
      Signature signature = Signature.getInstance("Ed25519");
      signature.initSign(privateKey);
      signature.update(message.getBytes(StandardCharsets.UTF_8));
      return base64(signature.sign());
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("nothing can be signed with this key", e);
    }
  }
}
