package ferrule.bench;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/**
 * The one thing that is read of a camera's metadata: which side of the picture is up (Exif 2.3, tag 0x0112 of the first
 * directory; from memory). Everything is checked against the file's own length, and whatever is odd counts as upright.
 */
final class ExifOrientation {

  private static final int UPRIGHT = 1;
  private static final int APP1 = 0xE1;
  private static final int START_OF_SCAN = 0xDA;
  private static final int ORIENTATION = 0x0112;
  private static final int ENTRY = 12;
  private static final int MOST_ENTRIES = 200;

  private ExifOrientation() {}

  /** The orientation of a JPEG, 1 to 8. */
  static int of(byte[] jpeg) {
    try {
      return inSegments(ByteBuffer.wrap(jpeg));
    } catch (IndexOutOfBoundsException | IllegalArgumentException e) {
      return UPRIGHT; // the file ends where something was promised
    }
  }

  private static int inSegments(ByteBuffer file) {
    int at = 2;
    while ((file.get(at) & 0xFF) == 0xFF) {
      int marker = file.get(at + 1) & 0xFF;
      int length = file.getShort(at + 2) & 0xFFFF;
      if (marker == START_OF_SCAN || length < 2) {
        return UPRIGHT;
      }
      if (marker == APP1 && isExif(file, at + 4)) {
        return inDirectory(file.slice(at + 10, length - 8));
      }
      at += 2 + length;
    }
    return UPRIGHT;
  }

  private static boolean isExif(ByteBuffer file, int at) {
    byte[] name = new byte[4];
    file.get(at, name);
    return new String(name, StandardCharsets.US_ASCII).equals("Exif");
  }

  private static int inDirectory(ByteBuffer tiff) {
    tiff.order(tiff.get(0) == 'I' ? ByteOrder.LITTLE_ENDIAN : ByteOrder.BIG_ENDIAN);
    int directory = tiff.getInt(4);
    int entries = Math.min(MOST_ENTRIES, tiff.getShort(directory) & 0xFFFF);
    for (int i = 0; i < entries; i++) {
      int entry = directory + 2 + i * ENTRY;
      if ((tiff.getShort(entry) & 0xFFFF) == ORIENTATION) {
        int value = tiff.getShort(entry + 8) & 0xFFFF;
        return value >= 1 && value <= 8 ? value : UPRIGHT;
      }
    }
    return UPRIGHT;
  }
}
