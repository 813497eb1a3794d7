package ferrule.bench;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.AffineTransform;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import javax.imageio.IIOImage;
import javax.imageio.ImageIO;
import javax.imageio.ImageReadParam;
import javax.imageio.ImageReader;
import javax.imageio.ImageWriteParam;
import javax.imageio.ImageWriter;
import javax.imageio.stream.MemoryCacheImageInputStream;
import javax.imageio.stream.MemoryCacheImageOutputStream;

/**
 * A picture that somebody sent, taken apart to its pixels and encoded anew, so that nothing but the pixels is left of
 * it: no place or time where it was taken, no other file hidden in it.
 *
 * <p>What is sent may mean harm. Its kind is told by its first bytes and not by its name; its size is read from its head
 * and judged before any pixel is decoded; decoding skips pixels beyond what is kept, so that its cost is bounded; and
 * its metadata are not read, except the one number that tells a camera's upright side.
 *
 * @param photo what the grade says of it
 * @param jpeg the picture, at most {@link #LONGEST_SIDE} on its longer side
 */
public record CleanPhoto(GradePhoto photo, byte[] jpeg) {

  /** The largest file that is taken, in bytes. */
  public static final int LARGEST_FILE = 12_000_000;
  /** The longest side of what is kept, in pixels: small enough to send, fine enough to see a solder line. */
  public static final int LONGEST_SIDE = 1_600;

  private static final long MOST_PIXELS = 60_000_000;
  private static final int LONGEST_GIVEN_SIDE = 16_000;
  private static final float QUALITY = 0.82f;

  private enum Kind {
    JPEG("jpeg"),
    PNG("png");

    private final String reader;

    Kind(String reader) {
      this.reader = reader;
    }
  }

  /**
   * The clean picture of a file.
   *
   * @throws IllegalArgumentException if it is no JPEG or PNG, too large, or broken; the message says what was expected
   */
  public static CleanPhoto of(byte[] file) {
    if (file.length > LARGEST_FILE) {
      throw new IllegalArgumentException("The photo is larger than " + LARGEST_FILE / 1_000_000 + " MB. Send a smaller one.");
    }
    Kind kind = kindOf(file);
    try {
      BufferedImage pixels = decode(file, kind);
      int orientation = kind == Kind.JPEG ? ExifOrientation.of(file) : 1;
      BufferedImage kept = upright(shrunk(pixels), orientation);
      byte[] jpeg = encode(kept);
      return new CleanPhoto(new GradePhoto(sha256(jpeg), kept.getWidth(), kept.getHeight()), jpeg);
    } catch (IOException | RuntimeException e) {
      if (e instanceof TooLarge) {
        throw (TooLarge) e;
      }
      // the decoders throw all sorts of things at broken files
      throw new IllegalArgumentException("The photo cannot be read: it is damaged or not a whole JPEG or PNG.", e);
    }
  }

  private static final class TooLarge extends IllegalArgumentException {
    private static final long serialVersionUID = 1L;

    TooLarge(String message) {
      super(message);
    }
  }

  private static Kind kindOf(byte[] file) {
    if (starts(file, 0xFF, 0xD8, 0xFF)) {
      return Kind.JPEG;
    }
    if (starts(file, 0x89, 'P', 'N', 'G', 0x0D, 0x0A, 0x1A, 0x0A)) {
      return Kind.PNG;
    }
    throw new IllegalArgumentException("This is not a photo that can be kept. Send a JPEG or a PNG.");
  }

  private static boolean starts(byte[] file, int... with) {
    for (int i = 0; i < with.length; i++) {
      if (i >= file.length || (file[i] & 0xFF) != with[i]) {
        return false;
      }
    }
    return true;
  }

  private static BufferedImage decode(byte[] file, Kind kind) throws IOException {
    ImageReader reader = ImageIO.getImageReadersByFormatName(kind.reader).next();
    try (MemoryCacheImageInputStream in = new MemoryCacheImageInputStream(new ByteArrayInputStream(file))) {
      reader.setInput(in, true, true);
      int width = reader.getWidth(0);
      int height = reader.getHeight(0);
      if (width > LONGEST_GIVEN_SIDE || height > LONGEST_GIVEN_SIDE || (long) width * height > MOST_PIXELS) {
        throw new TooLarge(
            "The photo measures " + width + " by " + height + " pixels. Send one of at most 60 million pixels.");
      }
      ImageReadParam param = reader.getDefaultReadParam();
      int step = Math.max(1, Math.max(width, height) / (2 * LONGEST_SIDE));
      param.setSourceSubsampling(step, step, 0, 0);
      return reader.read(0, param);
    } finally {
      reader.dispose();
    }
  }

  private static BufferedImage shrunk(BufferedImage image) {
    double scale = Math.min(1, (double) LONGEST_SIDE / Math.max(image.getWidth(), image.getHeight()));
    int width = Math.max(1, (int) Math.round(image.getWidth() * scale));
    int height = Math.max(1, (int) Math.round(image.getHeight() * scale));
    BufferedImage small = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
    Graphics2D g = small.createGraphics();
    g.setRenderingHint(RenderingHints.KEY_INTERPOLATION, RenderingHints.VALUE_INTERPOLATION_BILINEAR);
    g.setColor(Color.WHITE); // what is transparent lies on white
    g.fillRect(0, 0, width, height);
    g.drawImage(image, 0, 0, width, height, null);
    g.dispose();
    return small;
  }

  // orientations 1 to 8 as Exif numbers them: 1 upright, 3 upside down, 6 and 8 on its sides, the others mirrored
  private static BufferedImage upright(BufferedImage image, int orientation) {
    int w = image.getWidth();
    int h = image.getHeight();
    AffineTransform turn =
        switch (orientation) {
          case 2 -> new AffineTransform(-1, 0, 0, 1, w, 0);
          case 3 -> new AffineTransform(-1, 0, 0, -1, w, h);
          case 4 -> new AffineTransform(1, 0, 0, -1, 0, h);
          case 5 -> new AffineTransform(0, 1, 1, 0, 0, 0);
          case 6 -> new AffineTransform(0, 1, -1, 0, h, 0);
          case 7 -> new AffineTransform(0, -1, -1, 0, h, w);
          case 8 -> new AffineTransform(0, -1, 1, 0, 0, w);
          default -> new AffineTransform();
        };
    if (turn.isIdentity()) {
      return image;
    }
    boolean onItsSide = orientation >= 5;
    BufferedImage turned = new BufferedImage(onItsSide ? h : w, onItsSide ? w : h, BufferedImage.TYPE_INT_RGB);
    Graphics2D g = turned.createGraphics();
    g.drawImage(image, turn, null);
    g.dispose();
    return turned;
  }

  private static byte[] encode(BufferedImage image) throws IOException {
    ImageWriter writer = ImageIO.getImageWritersByFormatName("jpeg").next();
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (MemoryCacheImageOutputStream out = new MemoryCacheImageOutputStream(bytes)) {
      writer.setOutput(out);
      ImageWriteParam param = writer.getDefaultWriteParam();
      param.setCompressionMode(ImageWriteParam.MODE_EXPLICIT);
      param.setCompressionQuality(QUALITY);
      writer.write(null, new IIOImage(image, null, null), param);
    } finally {
      writer.dispose();
    }
    return bytes.toByteArray();
  }

  /** The SHA-256 of a picture as it is kept, in hex. */
  static String sha256(byte[] jpeg) {
    try {
      return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(jpeg));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }
}
