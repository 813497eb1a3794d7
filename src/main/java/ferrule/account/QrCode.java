package ferrule.account;

import com.google.zxing.WriterException;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;
import com.google.zxing.qrcode.encoder.ByteMatrix;
import com.google.zxing.qrcode.encoder.Encoder;

/** A text as a square of dark and light that phones read (ISO/IEC 18004), drawn as an SVG. */
final class QrCode {

  private static final int QUIET = 4; // light modules around it, which the standard asks for

  private QrCode() {}

  /** The path of the dark modules, in modules, and the width of the whole with its quiet zone. */
  record Drawing(String path, int width) {}

  /** Draws a text of up to a few hundred characters. */
  static Drawing draw(String text) {
    try {
      ByteMatrix modules = Encoder.encode(text, ErrorCorrectionLevel.M).getMatrix();
      StringBuilder path = new StringBuilder();
      for (int y = 0; y < modules.getHeight(); y++) {
        for (int x = 0; x < modules.getWidth(); x++) {
          if (modules.get(x, y) == 1) {
            path.append('M').append(x + QUIET).append(' ').append(y + QUIET).append("h1v1h-1z");
          }
        }
      }
      return new Drawing(path.toString(), modules.getWidth() + 2 * QUIET);
    } catch (WriterException e) {
      throw new IllegalArgumentException("too long for a square: " + text.length() + " characters", e);
    }
  }
}
