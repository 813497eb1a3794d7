package ferrule.drawing;

import com.github.weisj.jsvg.SVGDocument;
import com.github.weisj.jsvg.parser.LoaderContext;
import com.github.weisj.jsvg.parser.SVGLoader;
import com.github.weisj.jsvg.view.ViewBox;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import javax.imageio.ImageIO;

/** Turns pictures into PNG files. Needs no display. */
public final class Png {

  private Png() {}

  /**
   * A picture as a PNG file, on white.
   *
   * @param picture made with {@link PictureRequest#withFixedColours()}, for the renderer knows no CSS variables
   * @param width the width in px, at least 1
   * @throws IllegalArgumentException if the picture's source cannot be read
   */
  public static byte[] of(Picture picture, int width) {
    SVGDocument document = new SVGLoader().load(
        new ByteArrayInputStream(picture.svg().getBytes(StandardCharsets.UTF_8)),
        null,
        LoaderContext.createDefault());
    if (document == null) {
      throw new IllegalArgumentException("the picture's source cannot be read as SVG");
    }
    double scale = width / (double) document.size().width;
    int height = Math.max(1, (int) Math.round(document.size().height * scale));
    BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
    Graphics2D canvas = image.createGraphics();
    canvas.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
    canvas.setRenderingHint(RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
    canvas.setColor(Color.WHITE);
    canvas.fillRect(0, 0, width, height);
    document.render((java.awt.Component) null, canvas, new ViewBox(0, 0, width, height));
    canvas.dispose();
    return bytes(image);
  }

  private static byte[] bytes(BufferedImage image) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try {
      ImageIO.write(image, "png", out);
    } catch (IOException e) {
      throw new UncheckedIOException("a picture could not be written to memory", e);
    }
    return out.toByteArray();
  }
}
