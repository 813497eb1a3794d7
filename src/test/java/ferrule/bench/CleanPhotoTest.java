package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Random;
import java.util.zip.CRC32;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CleanPhotoTest {

  private static final String PLACE = "GPS-PLACE-OF-THE-SCHOOL";

  /** A picture whose upper left quarter is red, the rest blue. */
  static byte[] picture(String format, int width, int height) {
    try {
      BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
      Graphics2D g = image.createGraphics();
      g.setColor(Color.BLUE);
      g.fillRect(0, 0, width, height);
      g.setColor(Color.RED);
      g.fillRect(0, 0, width / 2, height / 2);
      g.dispose();
      ByteArrayOutputStream out = new ByteArrayOutputStream();
      ImageIO.write(image, format, out);
      return out.toByteArray();
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  private static BufferedImage decoded(CleanPhoto photo) throws IOException {
    return ImageIO.read(new ByteArrayInputStream(photo.jpeg()));
  }

  /** A JPEG with an Exif segment that says which side is up, and holds a place, as a camera writes it. */
  private static byte[] withExif(byte[] jpeg, int orientation) {
    ByteArrayOutputStream tiff = new ByteArrayOutputStream();
    tiff.writeBytes(new byte[] {'M', 'M', 0, 42, 0, 0, 0, 8, 0, 2});
    // orientation, a short; then the pointer to the directory of the place
    tiff.writeBytes(new byte[] {0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, (byte) orientation, 0, 0});
    tiff.writeBytes(new byte[] {(byte) 0x88, 0x25, 0, 4, 0, 0, 0, 1, 0, 0, 0, 38});
    tiff.writeBytes(new byte[] {0, 0, 0, 0});
    tiff.writeBytes(PLACE.getBytes(StandardCharsets.US_ASCII));
    byte[] exif = tiff.toByteArray();
    ByteBuffer out = ByteBuffer.allocate(jpeg.length + exif.length + 10);
    out.put(jpeg, 0, 2);
    out.putShort((short) 0xFFE1).putShort((short) (exif.length + 8));
    out.put("Exif\0\0".getBytes(StandardCharsets.US_ASCII)).put(exif);
    out.put(jpeg, 2, jpeg.length - 2);
    return out.array();
  }

  private static boolean contains(byte[] bytes, String text) {
    return new String(bytes, StandardCharsets.ISO_8859_1).contains(text);
  }

  @ParameterizedTest
  @CsvSource({"jpeg", "png"})
  void aPhotoIsKeptAsAJpegOfModestSizeUnderItsHash(String format) throws IOException {
    CleanPhoto photo = CleanPhoto.of(picture(format, 3200, 2000));
    assertEquals(1600, photo.photo().width());
    assertEquals(1000, photo.photo().height());
    assertEquals(CleanPhoto.sha256(photo.jpeg()), photo.photo().sha256());
    Color corner = new Color(decoded(photo).getRGB(20, 20));
    assertTrue(corner.getRed() > 200 && corner.getBlue() < 60, corner.toString());
  }

  @Test
  void theSamePictureHasTheSameHash() {
    byte[] picture = picture("png", 300, 200);
    assertEquals(CleanPhoto.of(picture).photo(), CleanPhoto.of(picture).photo());
  }

  @Test
  void thePlaceWhereItWasTakenIsGone() {
    byte[] sent = withExif(picture("jpeg", 400, 300), 1);
    assertTrue(contains(sent, PLACE) && contains(sent, "Exif"));
    byte[] kept = CleanPhoto.of(sent).jpeg();
    assertFalse(contains(kept, PLACE));
    assertFalse(contains(kept, "Exif"));
  }

  // where the red quarter lies for each orientation (Exif 2.3, from memory): 1 upper left, 2 upper right, 3 lower
  // right, 4 lower left; 5 to 8 on its side: upper left, upper right, lower right, lower left
  @ParameterizedTest
  @CsvSource({
    "1, 400, 0, 0", "2, 400, 1, 0", "3, 400, 1, 1", "4, 400, 0, 1", "5, 200, 0, 0", "6, 200, 1, 0", "7, 200, 1, 1",
    "8, 200, 0, 1"
  })
  void itStandsUprightAsTheCameraMeantIt(int orientation, int width, int right, int down) throws IOException {
    BufferedImage kept = decoded(CleanPhoto.of(withExif(picture("jpeg", 400, 200), orientation)));
    assertEquals(width, kept.getWidth());
    int x = right == 1 ? kept.getWidth() - 20 : 20;
    int y = down == 1 ? kept.getHeight() - 20 : 20;
    assertTrue(new Color(kept.getRGB(x, y)).getRed() > 200, "red at " + x + ", " + y);
  }

  @Test
  void anotherFileHiddenBehindThePictureIsGone() {
    byte[] jpeg = picture("jpeg", 300, 200);
    byte[] script = "<html><script>alert(1)</script>PK\3\4".getBytes(StandardCharsets.ISO_8859_1);
    byte[] both = Arrays.copyOf(jpeg, jpeg.length + script.length);
    System.arraycopy(script, 0, both, jpeg.length, script.length);
    byte[] kept = CleanPhoto.of(both).jpeg();
    assertFalse(contains(kept, "<script>"));
    assertFalse(contains(kept, "PK\3\4"));
    assertArrayEquals(CleanPhoto.of(jpeg).jpeg(), kept);
  }

  @ParameterizedTest
  @CsvSource({"gif", "bmp"})
  void otherKindsOfPictureAreRefusedWhateverTheirName(String format) {
    assertTrue(refusal(picture(format, 30, 20)).contains("Send a JPEG or a PNG"));
  }

  @Test
  void whatIsNoPictureIsRefused() {
    assertTrue(refusal("<svg onload='alert(1)'/>".getBytes(StandardCharsets.UTF_8)).contains("JPEG or a PNG"));
    assertTrue(refusal(new byte[0]).contains("JPEG or a PNG"));
    assertTrue(refusal(new byte[] {(byte) 0xFF, (byte) 0xD8, (byte) 0xFF, 0, 1, 2, 3}).contains("damaged"));
  }

  @Test
  void aFileThatIsTooLargeIsRefusedUnread() {
    assertTrue(refusal(new byte[CleanPhoto.LARGEST_FILE + 1]).contains("larger than 12 MB"));
  }

  // a PNG head of 60000 x 60000 pixels is a few dozen bytes; decoded it would take 14 GB
  @Test
  void aSmallFileOfHugePixelsIsRefusedBeforeItIsDecoded() throws IOException {
    assertTrue(refusal(pngOf(60_000, 60_000)).contains("60000 by 60000"));
    assertTrue(refusal(pngOf(15_000, 15_000)).contains("60 million pixels"));
    byte[] jpeg = picture("jpeg", 64, 64);
    for (int i = 0; i < jpeg.length - 9; i++) {
      if ((jpeg[i] & 0xFF) == 0xFF && (jpeg[i + 1] & 0xFF) == 0xC0) {
        ByteBuffer.wrap(jpeg).putShort(i + 5, (short) 65_000).putShort(i + 7, (short) 65_000);
      }
    }
    assertTrue(refusal(jpeg).contains("65000 by 65000"));
  }

  private static byte[] pngOf(int width, int height) {
    ByteBuffer head = ByteBuffer.allocate(17).put("IHDR".getBytes(StandardCharsets.US_ASCII))
        .putInt(width).putInt(height).put(new byte[] {8, 2, 0, 0, 0});
    CRC32 crc = new CRC32();
    crc.update(head.array());
    return ByteBuffer.allocate(33).put(new byte[] {(byte) 0x89, 'P', 'N', 'G', 13, 10, 26, 10})
        .putInt(13).put(head.array()).putInt((int) crc.getValue()).array();
  }

  @Test
  void damagedFilesAreRefusedOrMendedButNeverBreakAnything() {
    Random random = new Random(6);
    byte[][] whole = {withExif(picture("jpeg", 120, 80), 6), picture("png", 120, 80)};
    for (int i = 0; i < 400; i++) {
      byte[] broken = whole[i % 2].clone();
      for (int k = 0; k < 1 + random.nextInt(8); k++) {
        broken[random.nextInt(broken.length)] = (byte) random.nextInt(256);
      }
      byte[] cut = Arrays.copyOf(broken, 1 + random.nextInt(broken.length));
      for (byte[] file : new byte[][] {broken, cut}) {
        try {
          CleanPhoto photo = CleanPhoto.of(file);
          assertTrue(photo.photo().width() <= CleanPhoto.LONGEST_SIDE);
        } catch (IllegalArgumentException refused) {
          assertTrue(refused.getMessage().endsWith("."), refused.getMessage());
        }
      }
    }
  }

  private static String refusal(byte[] file) {
    return assertThrows(IllegalArgumentException.class, () -> CleanPhoto.of(file)).getMessage();
  }
}
