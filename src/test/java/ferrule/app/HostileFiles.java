package ferrule.app;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.CRC32;
import java.util.zip.Deflater;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import javax.imageio.ImageIO;

/** Files that are not what they should be, by what they are; of those whose name starts with "kept:" the pixels may stay. */
final class HostileFiles {

  private static final String MARKUP = "<script>window.__ran=1</script>";

  private HostileFiles() {}

  static Map<String, byte[]> all() {
    Map<String, byte[]> files = new LinkedHashMap<>();
    byte[] jpeg = picture("jpg");
    files.put("kept: a photo with markup after its end", joined(jpeg, MARKUP.getBytes(StandardCharsets.UTF_8)));
    files.put("no byte", new byte[0]);
    files.put("half a photo's head", Arrays.copyOf(jpeg, 60));
    files.put("a PNG of 50,000 by 50,000", png(50_000, 50_000, new byte[100]));
    files.put("a PNG that swells to 400 MB", png(20_000, 20_000, swelling(50_000_000)));
    files.put("a PNG of less than no width", png(-1, -1, new byte[10]));
    files.put("markup that begins like a GIF", ("GIF89a/*" + MARKUP + "*/=1").getBytes(StandardCharsets.UTF_8));
    files.put("a drawing with a script", ("<svg xmlns='http://www.w3.org/2000/svg'>" + MARKUP + "</svg>")
        .getBytes(StandardCharsets.UTF_8));
    files.put("XML that swells", ("<!DOCTYPE a [<!ENTITY b 'bbbbbbbbbb'><!ENTITY c '&b;&b;&b;&b;&b;&b;&b;&b;'><!ENTITY x SYSTEM "
        + "'file:///etc/passwd'>]><a>&c;&x;</a>").getBytes(StandardCharsets.UTF_8));
    files.put("a zip that swells to 20 MB", zip(20_000_000));
    files.put("over the limit", new byte[13_500_000]);
    files.put("a table of 1,000,000 columns", ",".repeat(1_000_000).getBytes(StandardCharsets.UTF_8));
    files.put("a quote that never ends", ("name,role\n\"" + "a".repeat(200_000)).getBytes(StandardCharsets.UTF_8));
    files.put("text in UTF-16", "name,role\nA,apprentice\n".getBytes(StandardCharsets.UTF_16));
    files.put("a table with NUL", "name,sign-in\nA\0B,a\0b\n".getBytes(StandardCharsets.UTF_8));
    files.put("no UTF-8", new byte[] {'n', 'a', 'm', 'e', '\n', (byte) 0xff, (byte) 0xfe, (byte) 0xed, (byte) 0xa0, (byte) 0x80});
    files.put("formulas", "name,sign-in\n=cmd|' /C calc'!A0,+1\n@sum(1),-2\n".getBytes(StandardCharsets.UTF_8));
    return files;
  }

  /** A form's body with this file in one of its fields, under a name that leads out of any folder. */
  static byte[] inForm(String mark, String field, byte[] content) {
    String head = "--" + mark + "\r\nContent-Disposition: form-data; name=\"" + field
        + "\"; filename=\"../../../../tmp/ran.jpg\"\r\nContent-Type: image/jpeg\r\n\r\n";
    return joined(joined(head.getBytes(StandardCharsets.UTF_8), content),
        ("\r\n--" + mark + "--\r\n").getBytes(StandardCharsets.UTF_8));
  }

  /** A form's body in parts, none of which is a file; the hostile bytes stand in one of its fields. */
  static byte[] inText(String mark, Map<String, List<String>> fields, String field, byte[] hostile) {
    byte[] body = new byte[0];
    for (Map.Entry<String, List<String>> each : fields.entrySet()) {
      byte[] head = ("--" + mark + "\r\nContent-Disposition: form-data; name=\"" + each.getKey() + "\"\r\n\r\n")
          .getBytes(StandardCharsets.UTF_8);
      byte[] value = each.getKey().equals(field) ? hostile : each.getValue().get(0).getBytes(StandardCharsets.UTF_8);
      body = joined(body, joined(joined(head, value), "\r\n".getBytes(StandardCharsets.UTF_8)));
    }
    return joined(body, ("--" + mark + "--\r\n").getBytes(StandardCharsets.UTF_8));
  }

  private static byte[] joined(byte[] a, byte[] b) {
    byte[] both = Arrays.copyOf(a, a.length + b.length);
    System.arraycopy(b, 0, both, a.length, b.length);
    return both;
  }

  private static byte[] picture(String format) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try {
      ImageIO.write(new BufferedImage(64, 48, BufferedImage.TYPE_INT_RGB), format, out);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return out.toByteArray();
  }

  /** A PNG that says it is so large, whatever its packed rows hold. */
  private static byte[] png(int width, int height, byte[] packed) {
    byte[] head = ByteBuffer.allocate(13).putInt(width).putInt(height).put(new byte[] {8, 0, 0, 0, 0}).array();
    byte[] start = {(byte) 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n'};
    return joined(joined(joined(start, chunk("IHDR", head)), chunk("IDAT", packed)), chunk("IEND", new byte[0]));
  }

  private static byte[] chunk(String type, byte[] data) {
    byte[] named = joined(type.getBytes(StandardCharsets.US_ASCII), data);
    CRC32 sum = new CRC32();
    sum.update(named);
    return ByteBuffer.allocate(named.length + 8).putInt(data.length).put(named).putInt((int) sum.getValue()).array();
  }

  private static byte[] swelling(int bytes) {
    Deflater deflater = new Deflater(Deflater.BEST_COMPRESSION);
    deflater.setInput(new byte[bytes]);
    deflater.finish();
    byte[] packed = new byte[bytes / 500];
    return Arrays.copyOf(packed, deflater.deflate(packed));
  }

  private static byte[] zip(int bytes) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try (ZipOutputStream zip = new ZipOutputStream(out)) {
      zip.putNextEntry(new ZipEntry("../../ran.csv"));
      zip.write(new byte[bytes]);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return out.toByteArray();
  }
}
