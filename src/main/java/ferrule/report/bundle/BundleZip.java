package ferrule.report.bundle;

import java.io.Closeable;
import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.DigestOutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.HexFormat;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

/** A zip file that knows the SHA-256 of what went into it. */
final class BundleZip implements Closeable {

  private static final int STRETCH = 1 << 16;

  /** What writes the content of a file. */
  interface Content {
    void write(OutputStream out) throws IOException;
  }

  private final ZipOutputStream zip;
  private final LocalDateTime at;
  private final SortedMap<String, String> hashes = new TreeMap<>();

  BundleZip(OutputStream out, Instant at) {
    this.zip = new ZipOutputStream(out, StandardCharsets.UTF_8);
    this.at = LocalDateTime.ofInstant(at, ZoneOffset.UTC);
  }

  void add(String name, Content content) throws IOException {
    ZipEntry entry = new ZipEntry(name);
    entry.setTimeLocal(at);
    zip.putNextEntry(entry);
    MessageDigest digest = sha256();
    try (OutputStream out = new DigestOutputStream(new LeftOpen(zip), digest)) {
      content.write(out);
    }
    zip.closeEntry();
    hashes.put(name, HexFormat.of().formatHex(digest.digest()));
  }

  void add(String name, String text) throws IOException {
    add(name, out -> out.write(text.getBytes(StandardCharsets.UTF_8)));
  }

  void add(String name, Path file, Headway headway) throws IOException {
    add(name, out -> {
      try (InputStream in = Files.newInputStream(file)) {
        byte[] stretch = new byte[STRETCH];
        for (int read = in.read(stretch); read >= 0; read = in.read(stretch)) {
          out.write(stretch, 0, read);
          headway.advance(read);
        }
      }
    });
  }

  /** The SHA-256 of every file so far, by its name. */
  SortedMap<String, String> hashes() {
    return new TreeMap<>(hashes);
  }

  static MessageDigest sha256() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  @Override
  public void close() throws IOException {
    zip.close();
  }

  /** An entry ends without ending the file. */
  private static final class LeftOpen extends FilterOutputStream {

    LeftOpen(OutputStream out) {
      super(out);
    }

    @Override
    public void write(byte[] bytes, int from, int length) throws IOException {
      out.write(bytes, from, length);
    }

    @Override
    public void close() {
      // the next entry follows
    }
  }
}
