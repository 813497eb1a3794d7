package ferrule.device;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.stream.Stream;
import java.util.zip.CRC32;

/** The scripts that run without a network, and a version that changes when one of them does. */
final class Modules {

  private static final List<String> NAMES =
      List.of("bench", "bench-page", "deliver", "device", "drill", "drill-page", "item", "judge", "kept", "seal", "without-network");

  /** Their addresses. */
  static final List<String> PATHS = NAMES.stream().map(n -> "/modules/" + n + ".js").toList();

  /** Of all their texts and the page that loads them. */
  static final String VERSION = version();

  private Modules() {}

  private static String version() {
    CRC32 sum = new CRC32();
    List<String> texts =
        Stream.concat(PATHS.stream(), Stream.of("/templates/device/without-network.peb")).toList();
    for (String path : texts) {
      try (InputStream in = Modules.class.getResourceAsStream(path)) {
        if (in == null) {
          throw new IllegalStateException("there is no " + path);
        }
        sum.update(in.readAllBytes());
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
    return Long.toHexString(sum.getValue());
  }
}
