package ferrule.drawing;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashSet;
import java.util.Set;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Test;

class SizeTest {

  private static final int LARGEST = 200_000;
  private static final int LARGEST_COMPRESSED = 40 * 1024;

  @Test
  void picturesAreLight() throws IOException {
    Set<String> heavy = new LinkedHashSet<>();
    for (View view : Trumpet.STUDIO.views()) {
      for (Set<String> variants : java.util.List.of(Set.<String>of(), Set.of("professional", "button-key",
          "adjustable-ring", "stop-screw"))) {
        byte[] svg = Trumpet.STUDIO.picture(PictureRequest.of(view.id()).variants(variants)).svg()
            .getBytes(StandardCharsets.UTF_8);
        int small = compressed(svg);
        if (svg.length > LARGEST || small > LARGEST_COMPRESSED) {
          heavy.add(view.id() + variants + ": " + svg.length + " bytes, compressed " + small);
        }
      }
    }
    assertEquals(Set.of(), heavy);
  }

  private static int compressed(byte[] bytes) throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try (GZIPOutputStream zip = new GZIPOutputStream(out)) {
      zip.write(bytes);
    }
    return out.size();
  }
}
