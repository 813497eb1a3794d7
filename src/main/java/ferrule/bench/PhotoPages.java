package ferrule.bench;

import ferrule.people.Role;
import ferrule.web.Access;
import ferrule.web.OnlyOwn;
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
import java.util.concurrent.Semaphore;

/** Photos of the work: taken up clean, shown to those whom the work concerns. */
public final class PhotoPages implements Pages {

  // decoding takes memory: no more than two at once, whatever is sent
  private final Semaphore decoding = new Semaphore(2);
  private final Bench bench;

  /** The pages. */
  public PhotoPages(Bench bench) {
    this.bench = bench;
  }

  @Override
  public void routes(RoutesConfig routes) {
    OnlyOwn own = DraftPages.own(bench);
    routes.post("/bench/drafts/{id}/photos", this::add, Access.INSTRUCTOR, own);
    routes.post("/bench/drafts/{id}/photos/{sha256}/remove", this::remove, Access.INSTRUCTOR, own);
    routes.get("/bench/photos/{sha256}", this::show, Access.SIGNED_IN, OnlyOwn.of(
        Role.APPRENTICE, "sha256", (reader, photo) -> bench.photos().apprenticesIn(photo).contains(reader.id())));
  }

  private Draft draft(Context ctx) {
    return bench.drafts().draft(Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("This draft has been put aside."));
  }

  private void add(Context ctx) {
    Draft draft = draft(ctx);
    String back = "/bench/drafts/" + draft.id();
    UploadedFile file = ctx.uploadedFile("photo");
    if (file == null || file.size() == 0) {
      Page.goTo(ctx, back, "No photo came with it. Choose one, or take one, and send it again.");
      return;
    }
    try {
      if (bench.photos().add(draft.id(), clean(file))) {
        Page.goTo(ctx, back + "#photos");
      } else {
        Page.goTo(
            ctx, back, "Not added: this draft is closed, or holds " + PhotoStore.MOST + " photos, the most that it can.");
      }
    } catch (IllegalArgumentException e) {
      Page.goTo(ctx, back, "The photo was not taken. " + e.getMessage() + " What you entered is kept.");
    }
  }

  private CleanPhoto clean(UploadedFile file) {
    decoding.acquireUninterruptibly();
    try (InputStream content = file.content()) {
      return CleanPhoto.of(content.readNBytes(CleanPhoto.LARGEST_FILE + 1));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } finally {
      decoding.release();
    }
  }

  private void remove(Context ctx) {
    Draft draft = draft(ctx);
    if (!bench.photos().remove(draft.id(), ctx.pathParam("sha256"))) {
      throw Refusal.conflict("This photo is not in an open draft.");
    }
    Page.goTo(ctx, "/bench/drafts/" + draft.id() + "#photos");
  }

  private void show(Context ctx) {
    String sha256 = ctx.pathParam("sha256");
    byte[] jpeg = bench.photos().jpeg(sha256).orElseThrow(() -> Refusal.notFound("There is no such photo."));
    // its address is the hash of its bytes: it never changes
    ctx.header("Cache-Control", "private, max-age=86400, immutable");
    ctx.contentType("image/jpeg");
    ctx.result(jpeg);
  }
}
