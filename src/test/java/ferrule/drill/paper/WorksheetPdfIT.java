package ferrule.drill.paper;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.drill.PartNames;
import ferrule.web.Paper;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;
import org.junit.jupiter.api.Test;

/** Worksheets and keys as they come out of the printer, read back from the PDF. */
class WorksheetPdfIT {

  private static final Worksheet SLIDES =
      Trumpet.worksheet(16, Trumpet.BOTH, 3, "third-slide-assembly", "main-slide-assembly");
  private static final Worksheet EVERYTHING = Trumpet.worksheet(30, Trumpet.ALL, 2, Trumpet.assemblies());

  private static byte[] paper(Worksheet w, Version v, Paper.Size size) {
    return Paper.pdf("drill/paper/worksheet", Trumpet.DESK.worksheet(w, v, Sections.Medium.PDF), size, w.madeAt());
  }

  private static byte[] key(Worksheet w, Version v) {
    return Paper.pdf("drill/paper/key", Trumpet.DESK.key(w, v, Sections.Medium.PDF), Paper.Size.A4, w.madeAt());
  }

  private static String text(byte[] pdf) throws IOException {
    try (PDDocument document = Loader.loadPDF(pdf)) {
      PDFTextStripper stripper = new PDFTextStripper();
      stripper.setSortByPosition(true);
      return stripper.getText(document).replaceAll("\\s+", " ");
    }
  }

  /** How often each number stands in the face of headings, in which of all numbers only those on drawings are set. */
  private static Map<Integer, Integer> onDrawings(byte[] pdf) throws IOException {
    Map<Integer, Integer> found = new TreeMap<>();
    try (PDDocument document = Loader.loadPDF(pdf)) {
      new PDFTextStripper() {
        @Override
        protected void writeString(String string, List<TextPosition> positions) {
          List<TextPosition> heading =
              positions.stream().filter(p -> p.getFont().getName().contains("Heading")).toList();
          StringBuilder word = new StringBuilder();
          TextPosition last = null;
          for (TextPosition p : heading) {
            boolean goesOn =
                last != null
                    && Math.abs(p.getX() - last.getX() - last.getWidth()) < 1.5
                    && Math.abs(p.getY() - last.getY()) < 1;
            if (!goesOn) {
              count(word, found);
            }
            word.append(p.getUnicode());
            last = p;
          }
          count(word, found);
        }
      }.getText(document);
    }
    return found;
  }

  private static void count(StringBuilder word, Map<Integer, Integer> found) {
    if (word.toString().strip().matches("\\d+")) {
      found.merge(Integer.parseInt(word.toString().strip()), 1, Integer::sum);
    }
    word.setLength(0);
  }

  @Test
  void everyBlankHasItsNumberOnADrawingOnceAndNoOtherNumberIsThere() throws IOException {
    for (Worksheet w : List.of(SLIDES, EVERYTHING)) {
      for (Version v : w.versions()) {
        Set<Integer> asked = new TreeSet<>();
        v.items().stream().filter(i -> Style.of(i).isNumbered()).forEach(i -> asked.add(i.position()));
        Map<Integer, Integer> drawn = onDrawings(paper(w, v, Paper.Size.A4));
        assertEquals(asked, drawn.keySet(), "version " + v.letter());
        assertTrue(drawn.values().stream().allMatch(n -> n == 1), drawn.toString());
      }
    }
  }

  @Test
  void theKeyOfAVersionNamesThePartsOfThatVersion() throws IOException {
    PartNames names = new PartNames(Trumpet.GLOSSARY);
    for (Version v : SLIDES.versions()) {
      String text = text(key(SLIDES, v));
      assertTrue(text.contains("Version " + v.letter()) && text.contains(SLIDES.code(v)), text);
      List<Sections.Line> lines =
          Trumpet.DESK.key(SLIDES, v, Sections.Medium.PDF).get("sections") instanceof List<?> sections
              ? sections.stream().flatMap(s -> ((Sections.Section) s).lines().stream()).toList()
              : new ArrayList<>();
      for (Item item : v.items()) {
        assertEquals(names.heading(item.key()), lines.get(item.position() - 1).key());
        String firstWords = item.position() + " " + names.heading(item.key()).split(" ")[0];
        assertTrue(text.contains(firstWords), "no '" + firstWords + "' in " + text);
      }
      Set<Integer> all = new TreeSet<>();
      v.items().forEach(i -> all.add(i.position()));
      assertEquals(all, onDrawings(key(SLIDES, v)).keySet(), "every number stands on the key's drawings");
    }
    String a = names.heading(SLIDES.versions().get(0).items().get(0).key());
    String b = names.heading(SLIDES.versions().get(1).items().get(0).key());
    assertFalse(a.equals(b), "number 1 is another part on version B");
  }

  @Test
  void noWorksheetTellsANameThatItAsksFor() throws IOException {
    for (Worksheet w : List.of(SLIDES, EVERYTHING)) {
      for (Version v : w.versions()) {
        String text = text(paper(w, v, Paper.Size.A4)).toLowerCase(Locale.ROOT);
        for (Item item : v.items()) {
          if (item.kind() == ItemKind.NAME) {
            String term = Trumpet.GLOSSARY.get(item.key()).term().toLowerCase(Locale.ROOT);
            assertFalse(text.contains(term), "version " + v.letter() + " says '" + term + "'");
          }
        }
        assertFalse(text.contains(" lit "), "nothing is lit on paper");
      }
    }
  }

  @Test
  void nothingBesideTheTextTellsANameEither() throws IOException {
    for (Version v : SLIDES.versions()) {
      String source = Trumpet.DESK.worksheet(SLIDES, v, Sections.Medium.PDF).get("sections").toString();
      for (Item item : v.items()) {
        if (item.kind() == ItemKind.NAME) {
          String drawings = source.replaceAll("Line\\[[^\\]]*\\]", "");
          assertFalse(drawings.contains(item.key().value()), "the drawing's source says " + item.key());
        }
      }
    }
  }

  @Test
  void bothSizesAreSetAndFontsAreEmbedded() throws IOException {
    Version b = SLIDES.versions().get(1);
    // ISO 216 and ANSI/ASME Y14.1, in points
    for (Paper.Size size : Paper.Size.values()) {
      double width = size == Paper.Size.A4 ? 210 / 25.4 * 72 : 8.5 * 72;
      double height = size == Paper.Size.A4 ? 297 / 25.4 * 72 : 11 * 72;
      try (PDDocument document = Loader.loadPDF(paper(SLIDES, b, size))) {
        for (PDPage page : document.getPages()) {
          assertEquals(width, page.getMediaBox().getWidth(), 0.5);
          assertEquals(height, page.getMediaBox().getHeight(), 0.5);
          for (COSName name : page.getResources().getFontNames()) {
            assertTrue(page.getResources().getFont(name).isEmbedded());
          }
          for (COSName name : page.getResources().getXObjectNames()) {
            assertFalse(page.getResources().isImageXObject(name), "drawings are vectors");
          }
        }
      }
    }
  }

  @Test
  void aKeyPrintedAgainIsTheSameFile() {
    Version a = SLIDES.versions().get(0);
    assertArrayEquals(key(SLIDES, a), key(SLIDES, a));
  }

  @Test
  void workThatCanHurtCarriesTheCaution() throws IOException {
    String text = text(paper(EVERYTHING, EVERYTHING.versions().get(0), Paper.Size.A4));
    assertTrue(text.contains("read the safety data sheets, keep to the local codes"), text);
    assertFalse(text(paper(SLIDES, SLIDES.versions().get(0), Paper.Size.A4)).contains("safety data sheets"));
  }
}
