// port_audio.cpp: what has to be seen to before and after the library runs.
//
// Room: sound. Edge: sound devices.
#include "sound/port_audio.hpp"

#include <portaudio.h>

#ifdef MIDSPAN_ALSA
#include <alsa/asoundlib.h>
#endif

namespace midspan {
namespace {

/// PortAudio 19.6 aborts the whole process where the ALSA configuration describes no PCM at all.
bool safe_to_start() {
#ifdef MIDSPAN_ALSA
    snd_config_t* described = nullptr;
    return snd_config_update() >= 0 && snd_config_search(snd_config, "pcm", &described) >= 0;
#else
    return true;
#endif
}

}  // namespace

PortAudio::~PortAudio() { Pa_Terminate(); }

Result<std::shared_ptr<const PortAudio>> PortAudio::start() {
    if (!safe_to_start()) {
        return Error{Fault::device, "sound system", "its configuration describes no devices",
                     "mend the ALSA configuration (asound.conf), or unset ALSA_CONFIG_PATH"};
    }
    const PaError error = Pa_Initialize();
    if (error != paNoError) {
        return Error{Fault::device, "sound system", port_audio_says(error),
                     "check that sound works in other programs"};
    }
    return std::shared_ptr<const PortAudio>{new PortAudio};
}

std::string port_audio_says(int number) {
    std::string said = Pa_GetErrorText(number);
    if (number == paUnanticipatedHostError) {
        const PaHostErrorInfo* below = Pa_GetLastHostErrorInfo();
        if (below != nullptr && below->errorText != nullptr && *below->errorText != '\0') {
            said = below->errorText;
        }
    }
    return said;
}

}  // namespace midspan
