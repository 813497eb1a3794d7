package ferrule.report.bundle;

import ferrule.ledger.FileSeal;
import ferrule.ledger.HeadKey;
import ferrule.ledger.LogCheck;
import ferrule.ledger.LogFile;
import ferrule.ledger.ProofFile;
import ferrule.ledger.TreeHead;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.Enumeration;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.LongConsumer;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;

/** Checks a bundle without anything of the school: its seal, every file in it, and the log or the proofs. */
public final class BundleCheck {

  private static final int LONGEST_SEAL = 10_000_000;

  /** The outcome. */
  public sealed interface Result permits Sound, Unsound {}

  /**
   * Nothing was altered.
   *
   * @param files how many files are sealed
   * @param records how many records are proved
   * @param seal the seal
   */
  public record Sound(int files, long records, FileSeal seal) implements Result {}

  /**
   * Something is not as it was given out.
   *
   * @param sentence what
   */
  public record Unsound(String sentence) implements Result {}

  private BundleCheck() {}

  /**
   * Checks a bundle.
   *
   * @param trusted the only key whose signatures count, if there is one; else the bundle's own
   * @param progress told the number of records done, now and then
   * @throws IOException if the file cannot be read as a zip file
   */
  public static Result check(Path file, Optional<HeadKey> trusted, LongConsumer progress) throws IOException {
    try (ZipFile zip = new ZipFile(file.toFile(), StandardCharsets.UTF_8)) {
      FileSeal seal;
      try {
        seal = seal(zip);
      } catch (IllegalArgumentException e) {
        return new Unsound("the seal is gone or cannot be read");
      }
      if (!seal.isSigned()) {
        return new Unsound("the seal has been altered: its signature does not fit");
      }
      if (trusted.filter(key -> !key.equals(seal.key())).isPresent()) {
        return new Unsound("the seal was not signed with the key that you trust");
      }
      Optional<String> fault = filesFault(zip, seal);
      return fault.isPresent() ? new Unsound(fault.get()) : records(zip, seal, progress);
    }
  }

  private static FileSeal seal(ZipFile zip) throws IOException {
    ZipEntry entry = zip.getEntry(BundleMaker.SEAL);
    if (entry == null) {
      throw new IllegalArgumentException("there is no seal");
    }
    try (InputStream in = zip.getInputStream(entry)) {
      return FileSeal.read(new String(in.readNBytes(LONGEST_SEAL), StandardCharsets.UTF_8));
    }
  }

  private static Optional<String> filesFault(ZipFile zip, FileSeal seal) throws IOException {
    Set<String> there = new HashSet<>();
    for (Enumeration<? extends ZipEntry> entries = zip.entries(); entries.hasMoreElements();) {
      ZipEntry entry = entries.nextElement();
      String name = entry.getName();
      if (!there.add(name)) {
        return Optional.of("the file " + name + " stands in it twice");
      }
      if (name.equals(BundleMaker.SEAL)) {
        continue;
      }
      String sealed = seal.files().get(name);
      if (sealed == null) {
        return Optional.of("the file " + name + " has been added");
      }
      if (!sealed.equals(hash(zip, entry))) {
        return Optional.of("the file " + name + " has been altered");
      }
    }
    return seal.files().keySet().stream().filter(name -> !there.contains(name)).findFirst()
        .map(name -> "the file " + name + " has been taken away");
  }

  private static String hash(ZipFile zip, ZipEntry entry) throws IOException {
    MessageDigest digest = BundleZip.sha256();
    try (InputStream in = zip.getInputStream(entry)) {
      byte[] stretch = new byte[1 << 16];
      for (int read = in.read(stretch); read >= 0; read = in.read(stretch)) {
        digest.update(stretch, 0, read);
      }
    }
    return HexFormat.of().formatHex(digest.digest());
  }

  private static Result records(ZipFile zip, FileSeal seal, LongConsumer progress) throws IOException {
    ZipEntry log = zip.getEntry(BundleMaker.LOG);
    if (log != null) {
      try (BufferedReader in = reader(zip, log)) {
        LogCheck.Result result =
            LogFile.check(in, Optional.of(seal.head()), Optional.of(seal.key()), List.of(), progress);
        return result instanceof LogCheck.Touched touched
            ? new Unsound("record " + touched.number() + " of the log: " + touched.sentence())
            : new Sound(seal.files().size(), ((LogCheck.Sound) result).head().size(), seal);
      }
    }
    ZipEntry proofs = zip.getEntry(BundleMaker.PROOFS);
    if (proofs == null) {
      return new Unsound("it holds no records");
    }
    try (BufferedReader in = reader(zip, proofs)) {
      return proven(ProofFile.check(in, Optional.<TreeHead>empty(), Optional.of(seal.key())), seal);
    }
  }

  private static Result proven(ProofFile.Result result, FileSeal seal) {
    if (result instanceof ProofFile.Unproven unproven) {
      return new Unsound("the proofs: " + unproven.sentence());
    }
    ProofFile.Proven proven = (ProofFile.Proven) result;
    boolean same = proven.heads().stream().anyMatch(head -> head.head().equals(seal.head()));
    return same ? new Sound(seal.files().size(), proven.records(), seal)
        : new Unsound("the proofs are of another head of the log than the seal names");
  }

  private static BufferedReader reader(ZipFile zip, ZipEntry entry) throws IOException {
    return new BufferedReader(new InputStreamReader(zip.getInputStream(entry), StandardCharsets.UTF_8));
  }
}
