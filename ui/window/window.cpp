// Events in, pixels out.
#include "window/window.hpp"

#include <imgui.h>
#include <stb_image_write.h>
#include <SFML/Graphics/Image.hpp>
#include <SFML/Graphics/RenderTexture.hpp>
#include <SFML/Graphics/RenderWindow.hpp>
#include <SFML/System/Clock.hpp>
#include <SFML/System/Sleep.hpp>

#include <csignal>
#include <stdexcept>

#include "command/session.hpp"
#include "disk/disk.hpp"
#include "shell/shell.hpp"
#include "stage/autosave.hpp"
#include "window/platform.hpp"
#include "work/worker.hpp"

namespace drawdown::window {

namespace {

// Seconds between frames while nothing happens: SFML reports no uncovered window, so it is drawn again now and then. A
// frame on a software renderer takes some 45 ms; this keeps an idle window under two hundredths of a core.
constexpr float idle_redraw = 4.0F;

volatile std::sig_atomic_t asked_to_end = 0;

void ask_to_end(int /*signal*/) {
  asked_to_end = 1;
}

// Asked to end, or the terminal lost: the window closes as if by hand, and the session is kept.
void end_gently_on_signals() {
  for (const int signal : {SIGTERM, SIGHUP, SIGINT}) (void)std::signal(signal, ask_to_end);
}

// Empty, or why it could not be written.
std::string write_session(const std::string& path, const std::string& text) {
  try {
    disk::write_file(path, text, disk::Who::person);
  } catch (const std::exception& error) {
    return error.what();
  }
  return {};
}

}  // namespace

int run(Start start) {
  sf::RenderWindow window(sf::VideoMode(static_cast<unsigned>(start.width), static_cast<unsigned>(start.height)),
                          "Drawdown");
  if (!window.isOpen()) throw std::runtime_error("no window could be opened");
  window.setVerticalSyncEnabled(true);
  window.setFramerateLimit(60);
  (void)window.setActive(true);
  Platform platform;
  work::Worker worker(start.assets);
  work::Worker studies(start.assets);
  shell::Shell shell(std::move(start.state), start.assets);
  const auto submit = [&](stage::Effect effect) {
    (stage::is_study(effect) ? studies : worker).submit(std::move(effect));
  };

  end_gently_on_signals();
  stage::Autosave autosave(command::session_text(shell.state()));
  bool keeps = !start.session.empty();
  const auto keep_session = [&](const std::string& text) {
    if (!keeps) return;
    const std::string why = write_session(start.session, text);
    if (why.empty()) return;
    keeps = false;  // said once
    shell.apply(stage::ReportProblem{shell.words().fill("session.not_kept", {why})}, submit);
  };

  sf::Clock clock;
  sf::Clock since_start;
  float last = 0.0F;
  int awake = 10;  // frames still to draw at full speed after the last thing that happened
  while (window.isOpen()) {
    sf::Event event{};
    while (window.pollEvent(event)) {
      if (event.type == sf::Event::Closed) window.close();
      if (event.type == sf::Event::Resized) {
        window.setView(
            sf::View(sf::FloatRect(0, 0, static_cast<float>(event.size.width), static_cast<float>(event.size.height))));
      }
      platform.event(event);
      awake = 10;
    }
    for (work::Worker* from : {&worker, &studies}) {
      for (const stage::Action& answer : from->take()) {
        shell.apply(answer, submit);
        awake = 10;
      }
    }
    const bool waiting = shell.state().own.fitting != nullptr;  // the fit's progress is shown
    if (shell.state().time.playing || shell.moving() || waiting) awake = 10;
    const float seconds = clock.restart().asSeconds();
    if (shell.state().time.playing) shell.apply(stage::Tick{static_cast<double>(seconds)}, submit);
    const float now = since_start.getElapsedTime().asSeconds();
    const bool time_is_up = start.quit_after > 0 && static_cast<double>(now) > start.quit_after;
    if (time_is_up || asked_to_end != 0) window.close();
    const auto text = autosave.due(static_cast<double>(now), [&] { return command::session_text(shell.state()); });
    if (text) keep_session(*text);
    if (awake <= 0 && now - last < idle_redraw) {
      sf::sleep(sf::milliseconds(12));  // nothing changes: no frame
      continue;
    }
    awake -= 1;
    last = now;
    const auto size = window.getSize();
    const auto w = static_cast<float>(size.x);
    const auto h = static_cast<float>(size.y);
    if (shell.fit_fonts(w, h)) platform.fonts_changed();
    platform.new_frame(w, h, seconds);
    shell.frame(w, h, static_cast<double>(now), submit, platform.take_typed());
    window.clear();
    platform.render(window);
    window.display();
  }
  keep_session(command::session_text(shell.state()));
  return 0;
}

void save_picture(const Picture& picture) {
  sf::RenderTexture texture;
  if (!texture.create(picture.width, picture.height)) {
    throw std::runtime_error("no drawing surface of " + std::to_string(picture.width) + "x" +
                             std::to_string(picture.height) + " could be made");
  }
  (void)texture.setActive(true);
  const auto w = static_cast<float>(picture.width);
  const auto h = static_cast<float>(picture.height);
  {
    Platform platform;
    shell::Shell shell(picture.state, picture.assets);
    if (shell.fit_fonts(w, h)) platform.fonts_changed();
    platform.new_frame(w, h, 1.0F / 60.0F);
    shell.frame(w, h, 0.0, [](const stage::Effect&) {});
    texture.clear();
    platform.render(texture);
    texture.display();
  }
  // Soft edges leave less than full cover in the texture's own alpha; a picture on paper has none.
  const sf::Image image = texture.getTexture().copyToImage();
  std::vector<sf::Uint8> pixels(image.getPixelsPtr(),
                                image.getPixelsPtr() + std::size_t{4} * picture.width * picture.height);
  for (std::size_t alpha = 3; alpha < pixels.size(); alpha += 4) pixels[alpha] = 255;
  std::string png;
  const auto append = [](void* context, void* data, int size) {
    static_cast<std::string*>(context)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
  };
  const int wide = static_cast<int>(picture.width);
  if (stbi_write_png_to_func(append, &png, wide, static_cast<int>(picture.height), 4, pixels.data(), 4 * wide) == 0) {
    throw std::runtime_error("the picture could not be made into a PNG");
  }
  disk::write_file(picture.path, png, picture.state.own.any() ? disk::Who::person : disk::Who::anyone);
}

}  // namespace drawdown::window
