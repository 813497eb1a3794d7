package ferrule.drawing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

class PaletteTest {

  @Test
  void pagesHaveTheColoursOfThePalette() throws IOException {
    Path made = Path.of("target", "drawing-colours.css");
    Files.createDirectories(made.getParent());
    Files.writeString(made, Palette.stylesheet());
    String kept =
        new String(
            PaletteTest.class.getResourceAsStream("/static/drawing-colours.css").readAllBytes(),
            StandardCharsets.UTF_8);
    assertEquals(Palette.stylesheet(), kept, "copy " + made + " to src/main/resources/static");
  }

  @Test
  void everyClassOfAPictureHasARule() {
    String css = Palette.stylesheet();
    for (Style style : Style.values()) {
      String svg = Trumpet.STUDIO.picture(PictureRequest.of("players-left").style(style)).svg();
      assertFalse(svg.contains("<style"), "a page's security policy forbids styles inside it");
      Matcher classes = Pattern.compile("class=\"([^\"]*)\"").matcher(svg);
      while (classes.find()) {
        for (String name : classes.group(1).split(" ")) {
          boolean isRule = Pattern.compile("\\." + Pattern.quote(name) + "[{ ,.]").matcher(css).find();
          boolean isMaterialOfLine = style == Style.LINE && name.startsWith("m-");
          assertTrue(isRule || isMaterialOfLine || name.equals("part"), "no rule for the class " + name);
        }
      }
    }
  }
}
