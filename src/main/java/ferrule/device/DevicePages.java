package ferrule.device;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.people.Person;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.UploadedFile;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.time.Clock;
import java.util.Map;

/**
 * What browsers need to go on without a network: the service worker, the page that it shows then, a key to seal to, and
 * the place where envelopes are brought.
 */
public final class DevicePages implements Pages {

  private static final int LARGEST = 13_000_000;
  private static final ObjectMapper JSON = new ObjectMapper();

  private final DeviceStore store;
  private final Reception reception;
  private final Clock clock;

  /** The pages. */
  public DevicePages(DeviceStore store, Reception reception, Clock clock) {
    this.store = store;
    this.reception = reception;
    this.clock = clock;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/service-worker.js", DevicePages::serviceWorker, Access.ANYONE);
    routes.get("/without-network", ctx -> Page.bare(ctx, "device/without-network", Map.of()), Access.ANYONE);
    routes.post("/device", this::open, Access.SIGNED_IN);
    routes.post("/device/end", this::end, Access.SIGNED_IN);
    // whose it is, the envelope says: the next person on a shared tablet brings what the last one left
    routes.post("/device/envelopes", this::receive, Access.ANYONE);
  }

  private static void serviceWorker(Context ctx) {
    Page.bare(ctx, "device/service-worker", Map.of("version", Modules.VERSION, "modules", Modules.PATHS));
    ctx.contentType("text/javascript; charset=utf-8");
  }

  private void open(Context ctx) {
    Person person = Visit.person(ctx);
    try {
      Device device = store.open(person.id(), Visit.formText(ctx, "verifyKey").orElse(""));
      send(ctx, JSON.createObjectNode().put("id", device.id().toString()).put("sealKey", device.sealKey())
          .put("now", clock.instant().toString()));
    } catch (IllegalArgumentException e) {
      throw Refusal.invalid("The browser gave no key of its own. Load the page again.");
    }
  }

  private void end(Context ctx) {
    store.end(Visit.formId(ctx, "device", "The device is not known."), Visit.person(ctx).id());
    ctx.status(204);
  }

  private void receive(Context ctx) {
    Envelope envelope = envelope(ctx);
    Receipt receipt = reception.receive(envelope).orElseThrow(
        () -> Refusal.notFound("The device on which this was made is not known here."));
    send(ctx, JSON.createObjectNode().put("id", envelope.id().toString()).put("state", receipt.state().word())
        .put("words", receipt.words()).put("link", receipt.link()).put("now", clock.instant().toString()));
  }

  private static Envelope envelope(Context ctx) {
    UploadedFile file = ctx.uploadedFile("sealed");
    if (file == null || file.size() > LARGEST) {
      throw Refusal.invalid("The envelope did not come whole. It is sent again.");
    }
    try (InputStream content = file.content()) {
      String seq = Visit.formText(ctx, "seq").orElse("");
      return new Envelope(
          Visit.formId(ctx, "id", "The envelope has no id."), Visit.formId(ctx, "device", "The envelope has no device."),
          seq.matches("[0-9]{1,6}") ? Integer.parseInt(seq) : 0, text(ctx, "kind", 20), text(ctx, "key", 200),
          text(ctx, "iv", 40), content.readNBytes(LARGEST));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (IllegalArgumentException e) {
      throw Refusal.invalid("The envelope is not complete.");
    }
  }

  private static String text(Context ctx, String name, int longest) {
    String text = Visit.formText(ctx, name).orElse("");
    if (text.length() > longest) {
      throw new IllegalArgumentException(name + " has at most " + longest + " characters");
    }
    return text;
  }

  private static void send(Context ctx, ObjectNode root) {
    ctx.contentType("application/json");
    ctx.result(root.toString());
  }
}
