package ferrule.app;

import ferrule.store.DatabaseUrl;
import ferrule.upkeep.Address;
import ferrule.upkeep.Copies;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * Makes backups of one installation, and rehearses their restore.
 *
 * @param from the database
 * @param headKey the file of the key that signs the log; empty to leave the keys out
 */
record Backups(Address from, Optional<Path> headKey) {

  /**
   * Makes one and says what is in it.
   *
   * @param rehearse whether to restore it into a folder that is thrown away, and to recompute the logs there
   * @throws IOException if it cannot be written or the rehearsal fails; the message says why
   */
  String make(Path file, boolean rehearse) throws IOException {
    Instant begun = Instant.now();
    Copies.Copied copied = Copies.backUp(from, headKey, file);
    String made = file + ": " + words(copied) + ", " + Files.size(file) / 1024 + " KiB, read back in "
        + seconds(begun);
    return rehearse ? made + "; " + rehearse(file) : made;
  }

  private static String rehearse(Path file) throws IOException {
    Instant begun = Instant.now();
    Path folder = Files.createTempDirectory("ferrule-rehearsal");
    try {
      Address clean = new Address(DatabaseUrl.h2File(folder, "ferrule"), Optional.empty(), Optional.empty());
      Copies.restore(file, clean, folder.resolve("head-key"));
      return "restore rehearsed in " + seconds(begun) + ": " + String.join("; ", RecordCheck.everySite(clean));
    } catch (IllegalStateException e) {
      throw new IOException("the restore of " + file + " failed when it was rehearsed: " + e.getMessage(), e);
    } finally {
      remove(folder);
    }
  }

  private static void remove(Path folder) throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(path);
      }
    }
  }

  /** What a copy holds, in words. */
  static String words(Copies.Copied copied) {
    return copied.rows() + " rows in " + copied.tables() + " tables of " + copied.schemas()
        + (copied.schemas() == 1 ? " site" : " sites") + " as of " + copied.madeAt()
        + (copied.keys().isEmpty() ? ", without keys" : ", with " + String.join(", ", copied.keys()));
  }

  /** The time since then, in seconds. */
  static String seconds(Instant begun) {
    return String.format("%.1f s", Duration.between(begun, Instant.now()).toMillis() / 1000.0);
  }

  /** Removes all but the latest so many of the backups that were made by the clock. */
  static void keepLatest(Path folder, int most) {
    try (Stream<Path> files = Files.list(folder)) {
      List<Path> old = files.filter(f -> f.getFileName().toString().matches("ferrule-[0-9T-]+\\.backup\\.zip"))
          .sorted(Comparator.comparing((Path f) -> f.getFileName().toString()).reversed())
          .skip(most)
          .toList();
      for (Path file : old) {
        Files.delete(file);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("old backups in " + folder + " cannot be removed: " + e.getMessage(), e);
    }
  }
}
