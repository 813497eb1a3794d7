package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.Set;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

class DrawCommandTest {

  @TempDir Path folder;
  private final StringWriter err = new StringWriter();

  private int run(String... args) {
    CommandLine line = Ferrule.commandLine();
    line.setErr(new PrintWriter(err));
    return line.execute(args);
  }

  @Test
  void onePictureIsWrittenAsSvgThatNeedsNoPage() throws IOException {
    Path file = folder.resolve("left.svg");
    assertEquals(0, run("draw", "--view", "players-left", "--style", "line", "--out", file.toString()));
    String svg = Files.readString(file);
    assertTrue(svg.startsWith("<svg") && svg.contains("fill=\"#") && !svg.contains("class=\"k"));
  }

  @Test
  void aPngShowsBrassAndTheLitPart() throws IOException {
    Path file = folder.resolve("right.png");
    assertEquals(0, run("draw", "--view", "players-right", "--light", "third slide crook", "--labels", "numbers",
        "--width", "900", "--out", file.toString()));
    BufferedImage image = ImageIO.read(file.toFile());
    assertEquals(900, image.getWidth());
    Set<Integer> colours = new HashSet<>();
    int blue = 0;
    for (int y = 0; y < image.getHeight(); y++) {
      for (int x = 0; x < image.getWidth(); x++) {
        int rgb = image.getRGB(x, y) & 0xffffff;
        colours.add(rgb);
        blue += (rgb & 255) > (rgb >> 16 & 255) + 60 ? 1 : 0;
      }
    }
    assertTrue(colours.size() > 200, "a picture has many tones; this one has " + colours.size());
    assertTrue(blue > 200, "the lit part is blue; blue pixels: " + blue);
  }

  @Test
  void allViewsComeWithAnIndexPage() throws IOException {
    assertEquals(0, run("draw", "--all", "--out", folder.toString()));
    String index = Files.readString(folder.resolve("index.html"));
    assertTrue(index.contains("three-quarter-left.svg"));
    assertTrue(Files.size(folder.resolve("three-quarter-left.svg")) > 10_000);
  }

  @Test
  void anUnknownViewVariantOrPartIsRefusedByName() {
    assertNotEquals(0, run("draw", "--view", "from-the-moon", "--out", folder.resolve("a.svg").toString()));
    assertNotEquals(0, run("draw", "--view", "above", "--variant", "gold", "--out", folder.resolve("a.svg").toString()));
    assertNotEquals(0, run("draw", "--view", "above", "--light", "reed", "--out", folder.resolve("a.svg").toString()));
    assertTrue(err.toString().contains("from-the-moon") && err.toString().contains("gold")
        && err.toString().contains("reed"));
  }
}
