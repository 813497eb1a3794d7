package ferrule.web;

import io.javalin.http.Context;
import io.javalin.rendering.FileRenderer;
import io.pebbletemplates.pebble.PebbleEngine;
import io.pebbletemplates.pebble.extension.AbstractExtension;
import io.pebbletemplates.pebble.extension.Function;
import io.pebbletemplates.pebble.loader.ClasspathLoader;
import io.pebbletemplates.pebble.template.EvaluationContext;
import io.pebbletemplates.pebble.template.PebbleTemplate;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.zip.CRC32;

/** Renders templates, and gives static files an address that changes when their content does. */
final class Skin implements FileRenderer {

  private final PebbleEngine engine;

  Skin() {
    ClasspathLoader loader = new ClasspathLoader(Skin.class.getClassLoader());
    loader.setPrefix("templates");
    this.engine =
        new PebbleEngine.Builder()
            .loader(loader)
            .strictVariables(true)
            .extension(new Assets())
            .build();
  }

  @Override
  public String render(String template, Map<String, ? extends Object> model, Context ctx) {
    return text(template, model);
  }

  /** What a template makes of a model. */
  String text(String template, Map<String, ?> model) {
    try {
      PebbleTemplate compiled = engine.getTemplate(template);
      Writer out = new StringWriter();
      @SuppressWarnings("unchecked") // Pebble only reads it
      Map<String, Object> values = (Map<String, Object>) model;
      compiled.evaluate(out, values);
      return out.toString();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The function {@code asset('ferrule.css')}: the file's address with a checksum of its content. */
  private static final class Assets extends AbstractExtension {

    @Override
    public Map<String, Function> getFunctions() {
      return Map.of("asset", new Asset());
    }
  }

  private static final class Asset implements Function {

    private final Map<String, String> addresses = new ConcurrentHashMap<>();

    @Override
    public List<String> getArgumentNames() {
      return List.of("name");
    }

    @Override
    public Object execute(Map<String, Object> args, PebbleTemplate self, EvaluationContext context, int line) {
      return addresses.computeIfAbsent((String) args.get("name"), Asset::address);
    }

    private static String address(String name) {
      try (InputStream in = Skin.class.getResourceAsStream("/static/" + name)) {
        if (in == null) {
          throw new IllegalStateException("there is no static file " + name);
        }
        CRC32 sum = new CRC32();
        sum.update(in.readAllBytes());
        return "/static/" + name + "?v=" + Long.toHexString(sum.getValue());
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }
}
