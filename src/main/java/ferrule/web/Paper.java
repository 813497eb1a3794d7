package ferrule.web;

import com.openhtmltopdf.extend.FSSupplier;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.outputdevice.helper.ExternalResourceControlPriority;
import com.openhtmltopdf.pdfboxout.PdfBoxRenderer;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import io.javalin.http.Context;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Calendar;
import java.util.GregorianCalendar;
import java.util.HashMap;
import java.util.Map;
import java.util.TimeZone;
import org.apache.pdfbox.pdmodel.PDDocument;

/**
 * Turns a template into a PDF: {@code Paper.send(ctx, "drill/worksheet", model, Paper.Size.A4, now, "worksheet-a")}.
 *
 * <p>A template named {@code drill/worksheet} is {@code templates/drill/worksheet.peb}; it extends {@code paper.peb},
 * fills the blocks {@code title}, {@code subject}, {@code foot} and {@code content}, and must be well-formed XML, because what is set is
 * XHTML: every element is closed, and {@code &nbsp;} and its like are written as the characters themselves. Drawings
 * stand in it as {@code svg} elements with fixed colours and an attribute {@code alt}, and stay vectors; photos as
 * {@code img} with a {@code data:} address. The style is {@code static/paper.css}. The same template can be shown as a page
 * ({@link Page#show}, with an empty {@code sheetStyle}) for those who print from their browser.
 *
 * <p>The fonts are embedded, the structure is tagged (PDF/UA), each page says its number and how many there are, and
 * nothing at all is fetched: a reference to anything outside the template is refused. The same template, model, size and
 * instant give the same document.
 */
public final class Paper {

  /** The size of a sheet. */
  public enum Size {
    /** 210 mm by 297 mm (ISO 216). */
    A4("210mm 297mm"),
    /** 8.5 in by 11 in (ANSI/ASME Y14.1). */
    LETTER("8.5in 11in");

    private final String css;

    Size(String css) {
      this.css = css;
    }

    /** The size that this text names, such as "letter"; A4 for every other text. */
    public static Size parse(String text) {
      return "letter".equalsIgnoreCase(text.strip()) ? LETTER : A4;
    }

    /** The word for a form, such as "letter". */
    public String word() {
      return name().toLowerCase(java.util.Locale.ROOT);
    }
  }

  private static final Skin SKIN = new Skin();
  private static final String TEXT = "Ferrule Text";
  private static final String HEADING = "Ferrule Heading";
  private static final int PLAIN = 400;
  private static final int STRONG = 600;
  private static final int BOLD = 700;

  static {
    PaperLog.install();
  }

  private Paper() {}

  /**
   * Sends a PDF as the answer to a request, to be shown by the browser.
   *
   * @param at the instant that the document is said to be made at
   * @param fileName what it is saved as, without ".pdf"
   */
  public static void send(
      Context ctx, String template, Map<String, ?> model, Size size, Instant at, String fileName) {
    byte[] pdf = pdf(template, model, size, at);
    ctx.header("Content-Disposition", "inline; filename=\"" + plain(fileName) + ".pdf\"");
    ctx.contentType("application/pdf");
    ctx.result(pdf);
  }

  /** A name that every file system takes: letters, digits and hyphens. */
  public static String plain(String fileName) {
    String plain = fileName.replaceAll("[^A-Za-z0-9]+", "-").replaceAll("^-|-$", "");
    return plain.isEmpty() ? "paper" : plain;
  }

  /**
   * A PDF.
   *
   * @param at the instant that the document is said to be made at
   * @throws IllegalStateException if the template does not make well-formed XML
   */
  public static byte[] pdf(String template, Map<String, ?> model, Size size, Instant at) {
    Map<String, Object> all = new HashMap<>(model);
    all.put("sheetStyle", "@page { size: " + size.css + "; }\n" + Stylesheet.TEXT);
    String html = SKIN.text(template + ".peb", all);
    ByteArrayOutputStream out = new ByteArrayOutputStream(1 << 16);
    try (BatikSVGDrawer drawer = new BatikSVGDrawer();
        PdfBoxRenderer renderer = builder(html, drawer).toStream(out).buildPdfRenderer();
        PDDocument document = renderer.createPDFKeepOpen()) {
      date(document, at);
      document.save(out);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (RuntimeException e) {
      throw new IllegalStateException("the template " + template + " cannot be set: " + e.getMessage(), e);
    }
    return out.toByteArray();
  }

  private static PdfRendererBuilder builder(String html, BatikSVGDrawer drawer) {
    PdfRendererBuilder builder = new PdfRendererBuilder();
    builder.useFastMode();
    builder.usePdfUaAccessibility(true);
    builder.withProducer("Ferrule");
    builder.useSVGDrawer(drawer);
    for (ExternalResourceControlPriority when : ExternalResourceControlPriority.values()) {
      builder.useExternalResourceAccessControl((address, type) -> isWithin(address), when);
    }
    builder.useUriResolver((base, address) -> isWithin(address) ? address : null);
    builder.useFont(font("print-text.ttf"), TEXT, PLAIN, FontStyle.NORMAL, true);
    builder.useFont(font("print-text-bold.ttf"), TEXT, BOLD, FontStyle.NORMAL, true);
    builder.useFont(font("print-heading.ttf"), HEADING, STRONG, FontStyle.NORMAL, true);
    builder.withHtmlContent(html, null);
    return builder;
  }

  // a photo stands in the template itself
  private static boolean isWithin(String address) {
    return address != null && (address.startsWith("data:image/png;") || address.startsWith("data:image/jpeg;"));
  }

  private static FSSupplier<InputStream> font(String name) {
    return () -> Paper.class.getResourceAsStream("/static/fonts/" + name);
  }

  /** Without this the document would carry the moment of printing, and the same paper would never be the same file. */
  private static void date(PDDocument document, Instant at) {
    Calendar moment = new GregorianCalendar(TimeZone.getTimeZone("UTC"));
    moment.setTimeInMillis(at.getEpochSecond() * 1000);
    document.getDocumentInformation().setCreationDate(moment);
    document.getDocumentInformation().setModificationDate(moment);
    document.setDocumentId(at.getEpochSecond());
  }

  /** The common style, read once. */
  private static final class Stylesheet {

    static final String TEXT = read();

    private static String read() {
      try (InputStream in = Paper.class.getResourceAsStream("/static/paper.css")) {
        return new String(in.readAllBytes(), StandardCharsets.UTF_8);
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }
}
