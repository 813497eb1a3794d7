package ferrule.web;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.time.Instant;
import java.util.Map;
import java.util.concurrent.atomic.AtomicInteger;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.common.PDRectangle;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;

class PaperTest {

  private static final Instant NOON = Instant.parse("2026-11-25T12:00:00Z");
  private static final String SVG =
      "<svg xmlns=\"http://www.w3.org/2000/svg\" alt=\"a square\" viewBox=\"0 0 10 10\" width=\"80\" height=\"80\">"
          + "<path d=\"M1 1H9V9H1z\" fill=\"#ffffff\" stroke=\"#000000\"/></svg>";

  private static byte[] sample(Paper.Size size, String drawing) {
    return Paper.pdf("web/paper-sample", Map.of("heading", "Sample & sheet", "drawing", drawing), size, NOON);
  }

  @Test
  void sheetsHaveTheSizeOfTheStandard() throws IOException {
    // ISO 216: A4 is 210 mm by 297 mm; ANSI/ASME Y14.1: Letter is 8.5 in by 11 in; a point is 1/72 in
    assertSize(sample(Paper.Size.A4, SVG), 210 / 25.4 * 72, 297 / 25.4 * 72);
    assertSize(sample(Paper.Size.LETTER, SVG), 8.5 * 72, 11 * 72);
  }

  private static void assertSize(byte[] pdf, double width, double height) throws IOException {
    try (PDDocument document = Loader.loadPDF(pdf)) {
      for (PDPage page : document.getPages()) {
        PDRectangle box = page.getMediaBox();
        assertEquals(width, box.getWidth(), 0.5);
        assertEquals(height, box.getHeight(), 0.5);
      }
    }
  }

  @Test
  void everyPageSaysItsNumberAndHowManyThereAre() throws IOException {
    try (PDDocument document = Loader.loadPDF(sample(Paper.Size.A4, SVG))) {
      assertEquals(2, document.getNumberOfPages());
      PDFTextStripper stripper = new PDFTextStripper();
      stripper.setSortByPosition(true);
      String text = stripper.getText(document);
      assertTrue(text.contains("page 1 of 2") && text.contains("page 2 of 2"), text);
      assertTrue(text.contains("Łukasz measured 0.05 mm at 20 °C."), text);
    }
  }

  @Test
  void fontsAreEmbeddedAndDrawingsStayVectors() throws IOException {
    try (PDDocument document = Loader.loadPDF(sample(Paper.Size.A4, SVG))) {
      int fonts = 0;
      for (PDPage page : document.getPages()) {
        for (COSName name : page.getResources().getFontNames()) {
          PDFont font = page.getResources().getFont(name);
          assertTrue(font.isEmbedded(), font.getName());
          fonts++;
        }
        for (COSName name : page.getResources().getXObjectNames()) {
          assertFalse(page.getResources().isImageXObject(name), "a picture of pixels");
        }
      }
      assertTrue(fonts >= 3, "text, bold and heading; found " + fonts);
    }
  }

  @Test
  void readersAreToldTitleLanguageAndStructure() throws IOException {
    try (PDDocument document = Loader.loadPDF(sample(Paper.Size.A4, SVG))) {
      assertEquals("Sample & sheet", document.getDocumentInformation().getTitle());
      assertEquals("A paper of Ferrule", document.getDocumentInformation().getSubject());
      assertEquals("en", document.getDocumentCatalog().getLanguage());
      assertTrue(document.getDocumentCatalog().getMarkInfo().isMarked());
      assertEquals("Document", document.getDocumentCatalog().getStructureTreeRoot().getKids().get(0)
          instanceof org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureElement root
              ? root.getStructureType() : "nothing");
    }
  }

  @Test
  void theSamePaperIsTheSameFileLater() throws InterruptedException {
    byte[] now = sample(Paper.Size.A4, SVG);
    Thread.sleep(1_100); // dates in a PDF are of whole seconds
    assertArrayEquals(now, sample(Paper.Size.A4, SVG));
  }

  @Test
  void aPhotoMayStandInTheTemplateItself() throws IOException {
    String pixel =
        "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";
    byte[] pdf = sample(Paper.Size.A4, "<img alt=\"a dot\" src=\"data:image/png;base64," + pixel + "\"/>");
    try (PDDocument document = Loader.loadPDF(pdf)) {
      int pictures = 0;
      for (COSName name : document.getPage(0).getResources().getXObjectNames()) {
        pictures += document.getPage(0).getResources().isImageXObject(name) ? 1 : 0;
      }
      assertEquals(1, pictures);
    }
  }

  @Test
  void nothingIsFetched() throws IOException {
    AtomicInteger asked = new AtomicInteger();
    HttpServer server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    server.createContext("/", exchange -> {
      asked.incrementAndGet();
      exchange.sendResponseHeaders(404, -1);
      exchange.close();
    });
    server.start();
    try {
      String there = "http://127.0.0.1:" + server.getAddress().getPort();
      sample(
          Paper.Size.A4,
          "<img alt=\"\" src=\"" + there + "/a.png\"/><object data=\"" + there + "/b\"></object>"
              + "<img alt=\"\" src=\"file:///etc/hostname\"/>"
              + "<p style=\"background-image: url(" + there + "/c.png)\">text</p>"
              + "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" alt=\"x\""
              + " width=\"9\" height=\"9\"><image width=\"9\" height=\"9\" xlink:href=\"" + there + "/d.png\"/></svg>");
    } finally {
      server.stop(0);
    }
    assertEquals(0, asked.get());
  }
}
